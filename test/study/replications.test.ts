/** Replications: figures of made-up runs worked out by hand, order, stopping; and real ones against renewal theory. */
import { createRequire } from "node:module";
import { describe, expect, test } from "vitest";
import { simulate } from "../../src/engine/simulate.ts";
import { RUNNING, STATE_COUNT } from "../../src/engine/states.ts";
import { prepare } from "../../src/network/prepare.ts";
import { total } from "../../src/quantity/counts.ts";
import { readScenario } from "../../src/scenario/read.ts";
import { playReplication, type Replication, replicationSeed } from "../../src/study/replications/replication.ts";
import {
  askFor,
  type Collected,
  playReplications,
  type ReplicationsAsked,
  summariseReplications,
  untilFigure,
} from "../../src/study/replications/replications.ts";

const { jStat }: { jStat: { studentt: { inv: (p: number, degrees: number) => number } } } = createRequire(
  import.meta.url,
)("jstat");

const POINTS = 640;
const GRID = {
  stepMin: 1,
  points: POINTS,
  markEvery: 10,
  averageMin: 4,
  leastBinMin: 1,
  oneCycle: 1,
  tickTakes: 0,
  stops: [],
};
const ASKED: ReplicationsAsked = {
  most: 5,
  until: null,
  seed: "a",
  machines: ["filler-1", "filler-2"],
  buffers: [{ machine: "filler-1", item: "can", capacity: 50 }],
};

/** A run of two machines that makes `perMin(i)` in minute i, and holds `held` items. */
function madeUp(replication: number, perMin: (minute: number) => number, held: number): Replication {
  let sum = 0;
  const made = Float64Array.from({ length: POINTS }, (_, i) => {
    sum += perMin(i);
    return sum;
  });
  const marks = POINTS / GRID.markEvery;
  return {
    replication,
    grid: GRID,
    made,
    madeInAll: sum,
    held: new Float64Array(POINTS).fill(held),
    // The first machine runs all the time, the second from minute 20 on for replication/10 of the time.
    runningMin: Float64Array.from({ length: 2 * (marks + 1) }, (_, at) => {
      const minute = Math.floor(at / 2) * GRID.markEvery;
      return at % 2 === 0 ? minute : (Math.max(0, minute - 20) * replication) / 10;
    }),
    levels: new Int32Array(POINTS).fill(10 * replication),
    stops: [],
    stopped: null,
  };
}

/** Nothing for twenty minutes, then 100 and its number each minute. */
const stepped = (replication: number): Replication =>
  madeUp(replication, (minute) => (minute < 20 ? 0 : 100 + replication), 200 + replication);

async function summed(runs: (replication: number) => Replication, asked: ReplicationsAsked = ASKED) {
  return summariseReplications(await playReplications(asked, async (r) => runs(r), { jobs: 1 }), asked);
}

test("the first replication has the file's seed, the others one that no other text or number makes", () => {
  expect(replicationSeed("a", 1)).toBe("a");
  expect(replicationSeed("a", 2)).toBe('["a",2]');
  const seeds = ["a", 'a",2]', '["a', "1", "11"].flatMap((seed) => [1, 2, 11, 12].map((r) => replicationSeed(seed, r)));
  expect(new Set(seeds).size).toBe(seeds.length);
});

describe("figures of runs that step up after 20 min", async () => {
  const { replications, each, band, buffers } = await summed(stepped);

  test("the ends: MSER-5 at the step, averages where they no longer reach back over it; an eighth of the run is later", () => {
    expect(replications.ramp_up_end).toEqual({
      mser5_min: 20,
      mser5_why: null,
      // Over three points: point 20 still has one without output.
      welch_min: 21,
      welch_why: null,
      welch_window_min: 3,
      drifts: false,
    });
    expect(replications).toMatchObject({ counted_from_min: 80, loss_counted_to_min: 160, run_at_least_min: null });
  });

  test("mean, Student-t interval with t(4) = 2.776, percentiles by definition 7 of Hyndman and Fan", () => {
    const { n, settled_output_per_min: settled } = replications;
    // 101 … 105: standard deviation √2.5.
    const half = (2.7764451 * Math.sqrt(2.5)) / Math.sqrt(5);
    expect(n).toBe(5);
    expect(settled).toMatchObject({ mean: 103, n: 5 });
    expect(settled?.ci95?.[0]).toBeCloseTo(103 - half, 6);
    expect(settled?.ci95?.[1]).toBeCloseTo(103 + half, 6);
    expect(settled?.p5).toBeCloseTo(101.2, 9);
    expect(settled?.p95).toBeCloseTo(104.8, 9);
  });

  test("loss up to the cut against each one's own output, hold-up, output in all, uptimes", () => {
    // 20 minutes at its own output.
    expect(each.map(({ lost }) => lost)).toEqual([2020, 2040, 2060, 2080, 2100]);
    expect(replications.ramp_up_loss?.mean).toBe(2060);
    expect(replications.ramp_up_loss_min).toBe(20);
    expect(replications.hold_up_settled?.mean).toBe(203);
    expect(replications.made.mean).toBe(620 * 103);
    expect(replications.machines[0]).toEqual({
      id: "filler-1",
      uptime: { mean: 1, ci95: null, no_ci95: "no variation", p5: 1, p95: 1, n: 5 },
    });
    expect(replications.machines[1]?.uptime?.mean).toBeCloseTo(0.3, 12);
    expect(each[4]?.uptimes[1]).toBeCloseTo(0.5, 12);
  });

  test("from when the mean keeps up with 95 %: not before the step, and 1.25 of a product of leeway before it is seen", () => {
    expect(replications.to_95_min).toBe(20);
  });

  test("the median is the third, what is shown beside it the first", () => {
    expect(replications.median).toEqual({ replication: 3, seed: '["a",3]' });
    expect(band.sampleReplication).toBe(1);
    const at = band.timesMin.findIndex((minute) => minute > 100);
    expect([band.mean[at], band.median[at], band.sample[at]]).toEqual([103, 103, 101]);
    expect(band.p95[at]).toBeCloseTo(104.8, 9);
    expect(buffers).toMatchObject([{ machine: "filler-1", item: "can", capacity: 50 }]);
    expect(new Set(buffers[0]?.level)).toEqual(new Set([30]));
  });
});

test("an output that never stops rising is told nothing of in the long run, but how long a run it may take", async () => {
  const { replications, each } = await summed((r) => madeUp(r, (minute) => minute, 0));
  expect(replications).toMatchObject({
    ramp_up_end: { mser5_min: null, mser5_why: "beyond half", welch_min: null, welch_why: "still moving" },
    counted_from_min: null,
    run_at_least_min: 1280,
    ramp_up_loss: null,
    to_95_min: null,
    settled_output_per_min: null,
    // It holds the same all the time.
    hold_up_settled: { mean: 0, ci95: null, no_ci95: "no variation" },
  });
  expect(each[0]).toMatchObject({ settledPerMin: null, lost: null });
});

test("a hold-up that rises while the output is settled has no settled figure, and takes none from the output", async () => {
  const { replications } = await summed((r) => ({
    ...stepped(r),
    held: Float64Array.from({ length: POINTS }, (_, i) => i + 5 * Math.sin(i * r)),
  }));
  expect(replications).toMatchObject({ hold_up_settled: null, hold_up_counted_from_min: null, counted_from_min: 80 });
});

test("an output that drifts by less than Welch's tolerance, seen by many alike, is not settled", async () => {
  const asked = { ...ASKED, most: 20 };
  const { replications } = await summed((r) => madeUp(r, (i) => 100 + i / 400 + Math.sin(i * r), 0), asked);
  expect(replications).toMatchObject({ ramp_up_end: { welch_why: null }, settled_output_per_min: null });
});

const BREAKDOWNS = { what: "breakdowns", of: "press", members: [0], perMin: 1 / 6400 } as const;

describe("stops that the file states", () => {
  const withStops =
    (each: (replication: number) => number) =>
    (r: number): Replication => ({
      ...stepped(r),
      grid: { ...GRID, stops: [BREAKDOWNS] },
      stops: [each(r)],
    });
  const asked = { ...ASKED, most: 20 };

  test("no interval before fifty were seen, in all replications together, and how many runs it would take", async () => {
    const { replications } = await summed(
      withStops((r) => (r === 20 ? 11 : 2)),
      asked,
    );
    expect(replications.stops).toEqual([
      { what: "breakdowns", of: "press", seen: 49, enough: false, replications_needed: Math.ceil(66 / (49 / 20)) },
    ]);
    for (const key of ["settled_output_per_min", "ramp_up_loss", "hold_up_settled", "made"] as const) {
      expect(replications[key]).toMatchObject({ ci95: null, no_ci95: "too few stops" });
    }
    expect(replications.machines[1]?.uptime).toMatchObject({ ci95: null, no_ci95: "too few stops" });
    const { replications: fifty } = await summed(
      withStops((r) => (r === 20 ? 12 : 2)),
      asked,
    );
    expect(fifty.settled_output_per_min?.ci95).not.toBeNull();
  });

  test("of few, the file tells better how often they come; the runs that were spared them have an interval", async () => {
    const { replications } = await summed(
      withStops((r) => (r > 18 ? 1 : 0)),
      asked,
    );
    // A tenth of one in each run of 640 min.
    expect(replications.stops[0]).toMatchObject({ seen: 2, replications_needed: 660 });
    expect(replications.without_rare).toMatchObject({
      stops: [{ what: "breakdowns", of: "press" }],
      settled_output_per_min: { n: 18, mean: 109.5 },
    });
  });

  test("--until waits for them", async () => {
    const until = { figure: "settled_output_per_min", share: 0.5 } as const;
    const found = await playReplications({ ...ASKED, most: 400, until }, async (r) => withStops(() => 1)(r), {
      jobs: 1,
    });
    expect(found.kept.length).toBeGreaterThanOrEqual(50);
    expect(found.kept.length).toBeLessThan(53);
  });
});

test("fewer than two tell nothing", async () => {
  await expect(summed(stepped, { ...ASKED, most: 1 })).rejects.toThrow(RangeError);
});

/** As workers of unlike speed would give them. */
function shuffled(replication: number): Promise<Replication> {
  const delayMs = (replication * 7) % 5;
  return new Promise((resolve) => setTimeout(() => resolve(noisy(replication)), delayMs));
}

/** 100 a minute, and a part of ± 20 that goes through all residues, so that it looks random and is known. */
const noisy = (replication: number): Replication =>
  madeUp(replication, (minute) => (minute < 20 ? 0 : 100 + noise(replication)), 0);
const noise = (replication: number): number => ((replication * 29) % 41) - 20;

describe("until an interval is narrow enough", () => {
  const asked = (share: number): ReplicationsAsked => ({
    ...ASKED,
    most: 400,
    until: { figure: "settled_output_per_min", share },
  });

  /** Worked out here: looks after 10, and then after a twentieth more, one at least. */
  function firstNarrow(share: number): number {
    for (let n = 10; ; n += Math.max(1, Math.floor(n / 20))) {
      const outputs = Array.from({ length: n }, (_, i) => 100 + noise(i + 1));
      const mean = total(outputs) / n;
      const sd = Math.sqrt(total(outputs.map((one) => (one - mean) ** 2)) / (n - 1));
      const half = (jStat.studentt.inv(0.975, n - 1) * sd) / Math.sqrt(n);
      // Law: γ/(1 + γ) of the estimated mean.
      if (half <= (share / (1 + share)) * mean) return n;
    }
  }

  test.each([0.2, 0.05, 0.03, 0.02])("within ± %s", async (share) => {
    const collected = await playReplications(asked(share), shuffled, { jobs: 3 });
    expect(collected.kept.length).toBe(firstNarrow(share));
    const { until } = summariseReplications(collected, asked(share)).replications;
    expect(until).toMatchObject({ figure: "settled_output_per_min", share, reached: true });
    expect(until?.half_width).toBeLessThanOrEqual(share);
  });

  test("where it does not get there, how many would do", async () => {
    const few = { ...asked(0.02), most: 40 };
    const { until, n } = summariseReplications(await playReplications(few, shuffled, { jobs: 2 }), few).replications;
    expect(n).toBe(40);
    expect(until?.reached).toBe(false);
    // About right: the spread of a few stands for that of all.
    expect(until?.about).toBeGreaterThan(100);
    expect(until?.about).toBeLessThan(200);
  });
});

test("the same whatever the number of workers and the order in which they finish", async () => {
  const asked = { ...ASKED, most: 30 };
  const one = await playReplications(asked, async (r) => noisy(r), { jobs: 1 });
  for (const jobs of [2, 3, 8, 40]) {
    expect(await playReplications(asked, shuffled, { jobs })).toEqual(one);
  }
});

test("told to stop, it gives those that are there without a gap; a failure comes through", async () => {
  const stop = new AbortController();
  const play = async (replication: number): Promise<Replication> => {
    if (replication === 4) throw new Error("ended");
    if (replication === 5) stop.abort();
    return noisy(replication);
  };
  const abortedAt3 = async (replication: number): Promise<Replication> => {
    if (replication === 3) stop.abort();
    return play(replication);
  };
  const { kept, isEnough }: Collected = await playReplications(ASKED, abortedAt3, { jobs: 1, stop: stop.signal });
  expect([kept.map(({ replication }) => replication), isEnough]).toEqual([[1, 2, 3], false]);
  await expect(playReplications(ASKED, play, { jobs: 1 })).rejects.toThrow("ended");
});

test.each([
  ["made", "made"],
  ["uptime.filler-2", { uptimeOf: "filler-2" }],
  ["uptime.filler-3", null],
  ["output", null],
])("figure %s", (text, figure) => expect(untilFigure(text, ASKED.machines)).toEqual(figure));

/** A machine that never waits, running 10 min at a time and 2 min under repair. */
const ALONE = `
title: One machine
horizon: 10 h
feeds: { silo: { item: can, rate: 60/min } }
machines:
  filler: { cycle: 2 s, takes: { can: 1 }, makes: { filled: 1 }, infeed: 20 }
lines:
  main: { layout: chain, from: silo, to: filler, belt: { rate: 100/min, capacity: 6 } }
random:
  machines:
    filler: { breakdowns: { between: { exponential: 10 min }, repair: { exponential: 2 min } } }
`;

function preparedOf(text: string) {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  const prepared = prepare(outcome.scenario);
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
  return prepared;
}

describe("a machine that breaks down", () => {
  const prepared = preparedOf(ALONE);
  const { program, horizonTicks } = prepared;

  test("a replication is the run with its seed", () => {
    const run = simulate(program, { horizonTicks, seed: '["lucky",7]' });
    const played = playReplication(prepared, "lucky", 7);
    expect(played.madeInAll).toBe(run.totals.cycles[0]);
    const { stepMin, points, markEvery } = played.grid;
    const pointTicks = run.samples.everyTicks;
    const ticks = Array.from(run.completions.tick.subarray(0, run.completions.count));
    for (const point of [0, 10, points - 1]) {
      expect(played.made[point]).toBe(ticks.filter((tick) => tick <= (point + 1) * pointTicks).length);
      expect(played.held[point]).toBe(
        total(run.samples.holdUp.subarray(point * program.itemCount, (point + 1) * program.itemCount)),
      );
      expect(played.levels[point]).toBe(run.samples.level[point * program.buffer.count]);
    }
    const lastMark = Math.floor(points / markEvery);
    const running = run.samples.stateTicks[(lastMark * markEvery - 1) * STATE_COUNT + RUNNING] ?? 0;
    expect(played.runningMin[lastMark]).toBeCloseTo((running * stepMin) / pointTicks, 9);
    expect(played.runningMin[0]).toBe(0);
  });

  test("makes 10/12 of its 30/min in the long run, whatever it makes at first", async () => {
    // Renewal reward: the share of the time up is the mean up over the mean up and down (S. M. Ross, Introduction to
    // Probability Models; from memory).
    const asked = askFor(prepared.network, { most: 60, until: null, seed: "availability" });
    const collected = await playReplications(asked, async (r) => playReplication(prepared, "availability", r), {
      jobs: 1,
    });
    const { settled_output_per_min: settled, machines } = summariseReplications(collected, asked).replications;
    const [low, high] = settled?.ci95 ?? [0, 0];
    const error = (high - low) / 2 / 2.001;
    expect(Math.abs((settled?.mean ?? 0) - 25)).toBeLessThan(3 * error);
    expect(error).toBeLessThan(0.15);
    const uptime = machines[0]?.uptime;
    expect(Math.abs((uptime?.mean ?? 0) - 10 / 12)).toBeLessThan(0.015);
  });
});
