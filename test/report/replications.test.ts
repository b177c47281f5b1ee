/** Reports of replications and of single runs under chance: what they say, what they never say, and their pictures. */
import { describe, expect, test } from "vitest";
import type { Chance, Replications } from "../../src/analysis/chance-results.ts";
import type { Result } from "../../src/analysis/result.ts";
import { paint } from "../../src/report/pictures.ts";
import { meanBuffersPicture } from "../../src/report/replications/mean-buffers-picture.ts";
import { outputBandPicture } from "../../src/report/replications/output-band-picture.ts";
import { replicationsCsv, replicationsSeriesCsv } from "../../src/report/replications/replication-report.ts";
import { findings } from "../../src/report/run/findings.ts";
import { outputPicture } from "../../src/report/run/output-picture.ts";
import { reportMarkdown } from "../../src/report/run/run-report.ts";
import { summary } from "../../src/report/run/summary.ts";
import { plain } from "../../src/report/text/figures.ts";
import type { Replication } from "../../src/study/replications/replication.ts";
import {
  playReplications,
  type ReplicationsSummary,
  summariseReplications,
} from "../../src/study/replications/replications.ts";
import { sample } from "./sample.ts";

const POINTS = 600;
const MACHINES = 10;

const STOPS = { what: "breakdowns", of: "wrapper", members: [0], perMin: 1 / 60 } as const;

/** Rises to some 220/min in twenty minutes, swinging each time in its own way. */
function run(replication: number): Replication {
  let sum = 0;
  const made = Float64Array.from({ length: POINTS }, (_, i) => {
    const swing = 30 * Math.sin(1.7 * i + replication) * Math.cos(i * replication);
    sum += Math.round(Math.min(1, (i + 1) / 25) * 220 + (i > 25 ? swing : 0));
    return sum;
  });
  const grid = {
    stepMin: 0.8,
    points: POINTS,
    markEvery: 10,
    averageMin: 0.4,
    leastBinMin: 1,
    oneCycle: 1,
    tickTakes: 0,
    stops: [STOPS],
  };
  return {
    replication,
    grid,
    made,
    madeInAll: sum,
    held: new Float64Array(POINTS).fill(900 + replication),
    runningMin: Float64Array.from({ length: 61 * MACHINES }, (_, at) => {
      const [mark, machine] = [Math.floor(at / MACHINES), at % MACHINES];
      return mark * 8 * (0.95 - machine / 100 - replication / 1000);
    }),
    levels: Int32Array.from({ length: POINTS * MACHINES }, (_, at) =>
      Math.min(80, Math.floor(at / MACHINES) * 4 - (at % MACHINES) * 10),
    ).map((level) => Math.max(0, level)),
    stops: [8],
    stopped: null,
  };
}

const { result: plainResult, series } = sample({
  machines: MACHINES,
  endMin: 480,
  id: (m) => `wrapper-${m + 1}`,
  title: "Ten wrappers",
});
const CHANCE: Chance = {
  ramp_up_end: {
    mser5_min: 20,
    mser5_why: null,
    welch_min: null,
    welch_why: "one run",
    welch_window_min: null,
    drifts: false,
  },
  settled_output_per_min: { mean: 217, ci95: [210, 224], why: null, batches: 24, batch_min: 15 },
  stops: [{ what: "breakdowns", of: "wrapper", seen: 80, enough: true, replications_needed: null }],
  counted_from_min: 60,
  run_at_least_min: null,
  stopped: null,
  gates: [{ feed: "oven", mean: 3.77, most: 41, at_end: 5 }],
};
const MEASURED: Result = {
  ...plainResult,
  chance: CHANCE,
  settling: { ...plainResult.settling, proved: false, basis: "measured", time_min: null, period_min: null },
  machines: plainResult.machines.map((machine) => ({ ...machine, full_rate_from_min: null })),
  output: { ...plainResult.output, settled_per_min: null, measured_per_min: 217, ramp_up_loss: null },
};

const asked = {
  most: 12,
  until: null,
  seed: "a",
  machines: Array.from({ length: MACHINES }, (_, m) => `wrapper-${m + 1}`),
  buffers: Array.from({ length: MACHINES }, (_, m) => ({ machine: `wrapper-${m + 1}`, item: "pack", capacity: 80 })),
};
const collected = await playReplications(asked, async (replication) => run(replication), { jobs: 1 });
const SUMMED: ReplicationsSummary = summariseReplications(collected, asked);
const MANY: Result = { ...MEASURED, replications: SUMMED.replications };

function said(result: Result): Map<string, string> {
  return new Map(findings(result).map(({ code, text }) => [code, plain(text)]));
}

function changed(change: Partial<Replications>): Map<string, string> {
  return said({ ...MANY, replications: { ...SUMMED.replications, ...change } });
}

describe("a single run under chance", () => {
  test("says what is likely, what is sure, and what to do for more", () => {
    const text = said(MEASURED);
    expect(text.get("settled")).toContain("in this one run the line makes 217/min from 60 min on");
    expect(text.get("sure")).toBe(
      "Sure, but for one study in twenty, is a long-run mean between 210/min and 224/min, by 24 batch means of 15 min.",
    );
    expect(text.get("more")).toContain("--replications 100");
    expect(text.get("gate")).toContain("oven 3.8 on average, 41 at most, 5 at the end");
  });

  test("gives the reason where there is no interval, no long run, or nothing came any more", () => {
    const none = { mean: 217, ci95: null, batches: null, batch_min: null };
    const changed = (change: Partial<Chance>) => said({ ...MEASURED, chance: { ...CHANCE, ...change } });
    const correlated = changed({ settled_output_per_min: { ...none, why: "batches still correlated" } });
    expect(correlated.get("sure")).toContain("batches of it are still correlated");
    const rare = changed({
      settled_output_per_min: { ...none, why: "too few stops" },
      stops: [{ what: "outages", of: "oven", seen: 1, enough: false, replications_needed: 66 }],
    });
    expect(rare.get("sure")).toBe(
      "How sure that is can't be told: 1 outage of oven was seen in this run, and an interval takes fifty.",
    );
    expect(rare.get("more")).toContain("about 66 replications, or a horizon about 66 times as long");
    const short = changed({
      ramp_up_end: { ...CHANCE.ramp_up_end, mser5_min: null, mser5_why: "beyond half" },
      run_at_least_min: 960,
    });
    expect(short.get("settled")).toMatch(
      /too short to tell .*by MSER-5 the ramp-up takes more than half.* Run at least 16 h/,
    );
    expect(short.has("sure")).toBe(false);
    const stopped = changed({ stopped: { since_min: 100, stands: [{ belt: "main.in-1", item: "tin" }] } });
    expect(stopped.get("stopped")).toBe(
      "At its end the line had stopped, from 1 h 40 min on, with tin standing on main.in-1.",
    );
  });

  test("never speaks of recurrence, of settling for good or of a band left", () => {
    for (const text of [summary(MEASURED), reportMarkdown(MEASURED, [])]) {
      expect(text).not.toMatch(/recurs\b|for good|repeats for|not settled within/);
    }
    expect([...said(MEASURED).keys()]).not.toContain("feed-held");
    expect(reportMarkdown(MEASURED, [])).not.toContain("Machines are the same from cycle to cycle");
    expect(outputPicture(MEASURED, series).finding).toBe("217/min after 60 min in this one run; chance plays a part.");
  });
});

describe("replications", () => {
  const texts = said(MANY);

  test("say what is likely, what is sure, what to do for more, and each figure with its interval", () => {
    const { settled_output_per_min: settled } = SUMMED.replications;
    expect(texts.get("settled")).toMatch(/^In the long run the line likely makes [\d.]+\/min, .* \(12 replications, /);
    expect(texts.get("sure")).toMatch(/^Sure, but for one study in twenty, is a long-run mean between /);
    expect(texts.get("more")).toContain("about 48 replications");
    expect(settled?.mean).toBeGreaterThan(210);
    expect(texts.get("time")).toMatch(/^From [\d.]+ min on the mean output keeps up with 95 % /);
    expect(texts.get("loss")).toMatch(/95 % interval .* counted up to 2 h; on average [\d.]+ min of output\.$/);
    expect([...texts.keys()]).toEqual([
      ...["settled", "sure", "more", "time", "loss", "hold-up", "uptime", "gate", "median"],
    ]);
    expect(texts.get("uptime")).toMatch(/^wrapper-10 runs .* the least of all; wrapper-1 most, /);
    expect(texts.get("median")).toMatch(/the median run, replication \d+ \(--seed '\["a",\d+\]'\)/);
  });

  test("say that the horizon is too short, why, and how long a run may do; no interval, no loss", () => {
    const none = { ...SUMMED.replications.ramp_up_end, mser5_min: null, mser5_why: "beyond half" } as const;
    const found = changed({
      ramp_up_end: none,
      settled_output_per_min: null,
      ramp_up_loss: null,
      run_at_least_min: 960,
      to_95_min: null,
    });
    expect(found.get("settled")).toMatch(
      /^The horizon of 4 h is too short .* takes more than half of it\. Run at least 16 h/,
    );
    expect(["sure", "loss", "time"].filter((code) => found.has(code))).toEqual([]);
  });

  test("name stops too rare, runs that had stopped, and replications that were not finished", () => {
    const { settled_output_per_min: settled } = SUMMED.replications;
    if (settled === null) throw new Error("the made-up runs settle");
    const found = changed({
      stops: [{ what: "breakdowns", of: "press", seen: 2, enough: false, replications_needed: 396 }],
      settled_output_per_min: { ...settled, ci95: null, no_ci95: "too few stops" },
      without_rare: { stops: [{ what: "breakdowns", of: "press" }], settled_output_per_min: { ...settled, n: 10 } },
      stopped: [{ replication: 3, since_min: 90, stands: [{ belt: "main.in-1", item: "tin" }] }],
      asked: 40,
    });
    expect(found.get("sure")).toContain(
      "2 breakdowns of press were seen in 12 replications, and an interval takes fifty",
    );
    expect(found.get("more")).toBe("For an interval: about 400 replications, or a horizon about 34 times as long.");
    expect(found.get("without-rare")).toMatch(
      /^While it is spared breakdowns of press, as 10 replications were, it makes /,
    );
    expect(found.get("stopped")).toContain(
      "In 1 of 12 replications the line had stopped at the end: replication 3 from 90 min on, with tin standing on main.in-1.",
    );
    expect(found.get("unfinished")).toContain("replications 13 to 40 were not finished");
  });

  test.each([
    [
      { reached: true, half_width: 0.018, about: 12 },
      "12 replications were enough for an interval of ±2 % of made (±1.8 %). Intervals that are waited for hold a little less often: about 93 in 100 rather than 95.",
    ],
    [
      { reached: false, half_width: 0.05, about: 70 },
      "12 replications are not enough for an interval of ±2 % of made (±5 %); about 70 would do.",
    ],
    [
      { reached: false, half_width: null, about: null },
      "12 replications are not enough for an interval of ±2 % of made.",
    ],
  ])("until: %j", (state, text) => {
    expect(changed({ until: { figure: "made", share: 0.02, coverage_percent: 93, ...state } }).get("until")).toBe(text);
  });

  test("are a table in the report, a row a figure", () => {
    const report = reportMarkdown(MANY, []);
    for (const name of ["settled output", "ramp-up loss", "settled hold-up", "made in all"]) {
      expect(report).toContain(`| ${name} |`);
    }
    expect(report.match(/\| uptime of wrapper-/g)).toHaveLength(MACHINES);
    expect(report).toMatch(/\| MSER-5 on the mean curve \| [\d.]+ \|/);
  });

  test("as CSV: a row a replication, a row a point", () => {
    expect(replicationsCsv(SUMMED).trimEnd().split("\r\n")).toHaveLength(13);
    const rows = replicationsSeriesCsv(SUMMED).trimEnd().split("\r\n");
    expect(rows[0]).toMatch(/^time_min,output_mean_items_per_min,.*,infeed_items:wrapper-1:pack,/);
    expect(rows).toHaveLength(SUMMED.band.timesMin.length + 1);
  });
});

describe("pictures", () => {
  const output = outputBandPicture(MANY, SUMMED);
  const buffers = meanBuffersPicture(MANY, SUMMED);

  test("the output: the mean on top, the median run and one other, interval within percentiles", () => {
    const sets = output.config.data.datasets;
    expect(sets.map(({ label }) => label)).toEqual([
      ...["mean", "median run", "one run", "settled", "full"],
      ...["interval, above", "interval, below", "95th percentile", "5th percentile"],
    ]);
    const at = (label: string): number => sets.find((set) => set.label === label)?.data.at(-1)?.y ?? Number.NaN;
    expect(at("5th percentile")).toBeLessThan(at("interval, below"));
    expect(at("interval, below")).toBeLessThan(at("mean"));
    expect(at("mean")).toBeLessThan(at("interval, above"));
    expect(at("interval, above")).toBeLessThan(at("95th percentile"));
    expect(output.config.plugins?.map(({ id }) => id)).toEqual(["timeMarks", "endLabels", "key"]);
  });

  test("the buffers: a heat map of the mean, however few", () => {
    expect(buffers.config.plugins?.map(({ id }) => id)).toEqual(["levelCells", "sideColumns", "key"]);
    expect(buffers.title).toContain("mean of 12 replications");
  });

  test("are PNGs of their size, not blank", async () => {
    for (const picture of [output, buffers]) {
      const png = Buffer.from(await paint(picture));
      expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([picture.width, picture.height]);
      expect(png.length).toBeGreaterThan(20_000);
    }
  });
});
