/** Reports of replications and of single runs under chance: what they say, what they never say, and their pictures. */
import { describe, expect, test } from "vitest";
import type { Chance, Replications } from "../../src/analysis/chance-results.ts";
import type { Result } from "../../src/analysis/result.ts";
import { plain } from "../../src/report/figures.ts";
import { findings } from "../../src/report/findings.ts";
import { reportMarkdown } from "../../src/report/markdown.ts";
import { meanBuffersPicture } from "../../src/report/pictures/mean-buffers.ts";
import { outputPicture } from "../../src/report/pictures/output.ts";
import { outputBandPicture } from "../../src/report/pictures/output-band.ts";
import { paint } from "../../src/report/pictures/pictures.ts";
import { replicationsCsv, replicationsSeriesCsv } from "../../src/report/replications/replications-csv.ts";
import { summary } from "../../src/report/summary.ts";
import type { Replication } from "../../src/study/replication.ts";
import { playReplications, type ReplicationsSummary, summariseReplications } from "../../src/study/replications.ts";
import { sample } from "./sample.ts";

const POINTS = 600;
const MACHINES = 10;

/** Rises to some 220/min in twenty minutes, swinging each time in its own way. */
function run(replication: number): Replication {
  let sum = 0;
  const made = Float64Array.from({ length: POINTS }, (_, i) => {
    const swing = 30 * Math.sin(1.7 * i + replication) * Math.cos(i * replication);
    sum += Math.round(Math.min(1, (i + 1) / 25) * 220 + (i > 25 ? swing : 0));
    return sum;
  });
  const grid = { stepMin: 0.8, points: POINTS, markEvery: 10, averageMin: 0.4 };
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
  };
}

const { result: plainResult, series } = sample({
  machines: MACHINES,
  endMin: 480,
  id: (m) => `wrapper-${m + 1}`,
  title: "Ten wrappers",
});
const CHANCE: Chance = {
  ramp_up_end: { mser5_min: 20, mser5_why: null, welch_min: null, welch_why: "one run", welch_window_min: null },
  settled_output_per_min: { mean: 217, ci95: [210, 224], why: null, batches: 24, batch_min: 15 },
  counted_from_min: 20,
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
  test("says what it is worth, that nothing is proved, and what more would tell", () => {
    const text = said(MEASURED).get("settled");
    expect(text).toContain("in this one run the line makes 217/min after 20 min (where MSER-5 ends the ramp-up)");
    expect(text).toContain("95 % interval 210/min to 224/min, by 24 batch means of 15 min");
    expect(text).toContain("Nothing is proved");
  });

  test("gives the reason where there is no interval or no end of the ramp-up", () => {
    const short: Chance = {
      ...CHANCE,
      ramp_up_end: { ...CHANCE.ramp_up_end, mser5_min: null, mser5_why: "beyond half" },
      settled_output_per_min: {
        mean: 217,
        ci95: null,
        why: "batches still correlated",
        batches: null,
        batch_min: null,
      },
    };
    const text = said({ ...MEASURED, chance: short }).get("settled");
    expect(text).toContain("over the last half of the horizon (MSER-5 finds no end of the ramp-up)");
    expect(text).toContain("batches of it are still correlated");
  });

  test("never speaks of recurrence, of settling for good or of a band left", () => {
    for (const text of [summary(MEASURED), reportMarkdown(MEASURED, [])]) {
      expect(text).not.toMatch(/recurs\b|for good|repeats for|not settled within/);
    }
    expect([...said(MEASURED).keys()]).not.toContain("feed-held");
    expect(reportMarkdown(MEASURED, [])).not.toContain("Machines are the same from cycle to cycle");
    expect(outputPicture(MEASURED, series).finding).toBe("217/min after 20 min in this one run; chance plays a part.");
  });
});

describe("replications", () => {
  const texts = said(MANY);

  test("say each figure with its interval and where runs lie, and name both procedures", () => {
    const { settled_output_per_min: settled } = SUMMED.replications;
    expect(texts.get("settled")).toMatch(/^Over 12 replications the line makes [\d.]+\/min \(95 % interval/);
    expect(settled.mean).toBeGreaterThan(210);
    expect(texts.get("ramp-up")).toMatch(
      /^By MSER-5 on the mean output .*; by Welch's procedure at .*; the mean output's/,
    );
    expect([...texts.keys()]).toEqual(["settled", "ramp-up", "settling", "loss", "hold-up", "uptime", "median"]);
    expect(texts.get("uptime")).toMatch(/^wrapper-10 runs 85.* the least of all; wrapper-1 most, /);
    expect(texts.get("median")).toMatch(/the median run, replication \d+ \(--seed '\["a",\d+\]'\)/);
  });

  test("say why there is no end, and which way out there is", () => {
    const none = {
      ...SUMMED.replications.ramp_up_end,
      mser5_min: null,
      mser5_why: "beyond half",
      welch_min: null,
      welch_why: "still moving",
      band_min: null,
    } as const;
    const found = changed({ ramp_up_end: none, ramp_up_loss: null, settling_min: null });
    expect(found.get("ramp-up")).toContain("it lies beyond half of the horizon, which asks for a longer one");
    expect(found.get("ramp-up")).toContain("the mean output still moves, which asks for a longer horizon");
    expect(found.get("ramp-up")).toContain("half of the horizon.");
    expect(found.has("loss")).toBe(false);
    expect(found.get("settling")).toMatch(/^In no replication /);
  });

  test("count those without a settling time", () => {
    const { n, settling_min: figure } = SUMMED.replications;
    if (figure === null) throw new Error("the made-up runs settle");
    const found = changed({ settling_min: { ...figure, n: n - 2 } });
    expect(found.get("settling")).toContain("In 10 replications a moving average");
    expect(found.get("settling")).toContain("in 2 of 12 it does not come to stay there by half of the horizon");
  });

  test.each([
    [
      { reached: true, half_width: 0.018, about: 12 },
      "12 replications were enough for an interval of ±2 % of made (±1.8 %).",
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
    expect(changed({ until: { figure: "made", share: 0.02, ...state } }).get("until")).toBe(text);
  });

  test("are a table in the report, a row a figure", () => {
    const report = reportMarkdown(MANY, []);
    for (const name of ["settled output", "settling time", "ramp-up loss", "settled hold-up", "made in all"]) {
      expect(report).toContain(`| ${name} |`);
    }
    expect(report.match(/\| uptime of wrapper-/g)).toHaveLength(MACHINES);
    expect(report).toMatch(/\| MSER-5 on the mean output \| [\d.]+ \|/);
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
