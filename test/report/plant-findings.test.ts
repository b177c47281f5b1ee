import { describe, expect, test } from "vitest";
import type { BatchCycle, BatchResult, LimitResult, RateCut } from "../../src/analysis/plant-results.ts";
import type { Result } from "../../src/analysis/result.ts";
import { findings } from "../../src/report/run/findings.ts";
import { reportMarkdown } from "../../src/report/run/run-report.ts";
import { plain } from "../../src/report/text/figures.ts";
import type { FindingCode } from "../../src/report/text/finding.ts";
import { sample } from "./sample.ts";

const base = sample({ machines: 4 }).result;

function said(changes: Partial<Result>, code: FindingCode): string[] {
  return findings({ ...base, ...changes }).flatMap((finding) => (finding.code === code ? [plain(finding.text)] : []));
}

/** The rows of a table of the report, as cells, under its heading. */
function table(changes: Partial<Result>, heading: string): string[][] {
  const text = reportMarkdown({ ...base, ...changes }, []);
  const [, after = ""] = text.split(`### ${heading}\n\n`);
  const [rows = ""] = after.split("\n\n");
  return rows.split("\n").map((row) =>
    row
      .split("|")
      .slice(1, -1)
      .map((cell) => cell.trim()),
  );
}

const CUT: RateCut = {
  divider: "main.cut",
  belt: "main.slow",
  cut_per_min: "60",
  arriving_per_min: "110",
  taken_per_min: "60",
  passed_on_per_min: "50",
  state: "exact",
};

describe("rate cuts", () => {
  test("an exact one says what is taken and passed on", () => {
    expect(said({ cuts: [CUT] }, "cut")).toEqual([
      "main.cut takes exactly the 60/min of main.slow out of 110/min and passes on 50/min.",
    ]);
  });

  test("one that gets too little says so", () => {
    const short: RateCut = {
      ...CUT,
      arriving_per_min: "45",
      taken_per_min: "45",
      passed_on_per_min: "0",
      state: "short",
    };
    expect(said({ cuts: [short] }, "cut")).toEqual([
      "main.cut needs 60/min for main.slow and gets 45/min: all of it is taken, and nothing is passed on.",
    ]);
  });

  test("one by fits and starts, one held up, and one of which nothing is known", () => {
    const uneven: RateCut = { ...CUT, taken_per_min: "40", passed_on_per_min: "70", state: "uneven" };
    const held: RateCut = { ...CUT, taken_per_min: "20", passed_on_per_min: "90", state: "held-up" };
    const unknown = { ...CUT, arriving_per_min: null, taken_per_min: null, passed_on_per_min: null, state: null };
    expect(said({ cuts: [uneven, held, unknown] }, "cut")).toEqual([
      "main.cut is to take the 60/min of main.slow, but of the 110/min that come by fits and starts it takes 40/min and passes on 70/min.",
      "main.cut is to take the 60/min of main.slow, but what lies behind that belt takes only 20/min; 90/min are passed on.",
    ]);
    expect(table({ cuts: [unknown] }, "Rate cuts")[2]).toEqual(["main.cut", "main.slow", "60", "–", "–", "–", "–"]);
  });

  test("many are not told one by one", () => {
    const cuts = Array.from({ length: 9 }, (_, i) => ({ ...CUT, divider: `main.cut-${i + 1}` }));
    const texts = said({ cuts }, "cut");
    expect(texts).toHaveLength(4);
    expect(texts[3]).toBe("Just as exact: main.cut-4, main.cut-5, main.cut-6, main.cut-7 and 2 more.");
    expect(table({ cuts }, "Rate cuts")).toHaveLength(11);
  });

  test("a belt that cuts is not one that lacks headroom", () => {
    const belts = base.belts.map((belt, i) => ({ ...belt, headroom_per_min: i === 1 ? "0" : "5" }));
    const cuts = [{ ...CUT, belt: belts[1]?.id ?? "" }];
    expect(said({ belts }, "headroom")).toHaveLength(1);
    expect(said({ belts, cuts }, "headroom")).toEqual([]);
  });
});

const CYCLE: BatchCycle = {
  length_min: 10,
  fed: 600,
  held_up_min: 0,
  vehicles_wait_min: 0,
  runs_through: true,
  waits: [],
};
const BATCH: BatchResult = {
  feed: "quay",
  vehicles: { every_min: "10", items: 600, first_min: "0", unloading_per_min: "120", bring_per_min: "60" },
  surge: { room: 400, peak: 310, settled_low: 0, settled_high: 296 },
  held_up_min: 0,
  vehicles_wait_min: 0,
  cycle: CYCLE,
  needed_room: 296,
  brings_too_much: false,
};

describe("vehicles and surge buffers", () => {
  test("a line that runs through, and the room it needs", () => {
    expect(said({ batches: [BATCH] }, "batch")).toEqual([
      "The line runs through between two vehicles of quay: no machine that needs what they bring waits for it.",
      "The surge buffer of quay holds at most 310 of 400 items, once settled between 0 and 296; room for 296 items would do.",
    ]);
    expect(table({ batches: [BATCH] }, "Vehicles and surge buffers")[2]).toEqual([
      "quay",
      "10",
      "600",
      "60",
      "120",
      "400",
      "310",
      "0",
      "296",
      "296",
      "10",
      "0.0",
      "0.0",
      "0.0",
      "yes",
    ]);
  });

  test("who waits, for how long, and that no room would help where all is taken", () => {
    const waits = [
      { machine: "m-1", item: "pouch", min: 2.5 },
      { machine: "m-2", item: "pouch", min: 1 },
    ];
    const cycle = { ...CYCLE, runs_through: false, waits };
    expect(said({ batches: [{ ...BATCH, cycle, surge: null }] }, "batch")).toEqual([
      "The line does not run through between two vehicles of quay: m-1 waits for pouch for 2.5 min of every 10 min, and one more waits, too; no more room would help, since all of the 60/min that vehicles bring on average is taken.",
    ]);
  });

  test("unloading held up, with the room that would do, or the reason why none does", () => {
    const cycle = { ...CYCLE, held_up_min: 1.9, vehicles_wait_min: 0.5 };
    const held = { ...BATCH, cycle, surge: null };
    expect(said({ batches: [held] }, "batch").at(-1)).toBe(
      "At quay unloading is held up for 1.9 min of every 10 min and vehicles wait for 0.5 min of every 10 min; with room for 296 items it would not be.",
    );
    expect(said({ batches: [{ ...held, needed_room: null, brings_too_much: true }] }, "batch").at(-1)).toContain(
      "; the line takes less than the 60/min they bring on average, so that no room is enough.",
    );
  });

  test("where settling is not proved, what there was over the horizon", () => {
    const batch = { ...BATCH, cycle: null, needed_room: null, brings_too_much: null, held_up_min: 80 };
    expect(said({ batches: [batch] }, "batch")).toEqual([
      "The surge buffer of quay holds at most 310 of 400 items, once settled between 0 and 296.",
      "At quay unloading is held up for 80 min over the horizon.",
    ]);
  });

  test("a surge buffer behind a steady feed is told of without vehicles", () => {
    const batch = { ...BATCH, vehicles: null };
    expect(said({ batches: [batch] }, "batch")).toHaveLength(1);
    expect(table({ batches: [batch] }, "Vehicles and surge buffers")[2]?.slice(0, 5)).toEqual([
      "quay",
      "–",
      "–",
      "–",
      "–",
    ]);
  });
});

const HELD: LimitResult = {
  what: "hold-up",
  place: null,
  item: "pouch",
  limit: 600,
  peak: 633,
  peak_at_min: 29.1,
  over_min: 214,
  settled_over_share: 1,
  over_items: null,
  lying_over: null,
};
const DWELL: LimitResult = {
  ...HELD,
  what: "dwell",
  limit: 6,
  peak: 7.8,
  peak_at_min: null,
  over_min: null,
  settled_over_share: null,
  over_items: 40,
  lying_over: 3,
};
const PERMITTED =
  "Which quantities of hazardous goods are permitted where, local codes and the site's permit say, not this program.";

describe("limits", () => {
  test("without any nothing is said, nor permitted quantities spoken of", () => {
    expect(said({}, "limit")).toEqual([]);
  });

  test("kept ones are named with what there was", () => {
    const limits = [
      { ...HELD, peak: 500, over_min: 0, place: "quay" },
      { ...DWELL, peak: 5, over_items: 0, lying_over: 0 },
    ];
    expect(said({ limits }, "limit")).toEqual([
      "All limits are kept: at most 500 of 600 pouch at quay and pouch 5 min of 6 min.",
      PERMITTED,
    ]);
    expect(said({ limits: limits.slice(1) }, "limit")).toEqual(["The limit is kept: pouch 5 min of 6 min."]);
  });

  test("broken ones say by how much, for how long, and whether for good", () => {
    expect(said({ limits: [HELD, DWELL] }, "limit")).toEqual([
      "More lies than the limit allows: up to 633 pouch in the whole plant (first at 29.1 min), 600 are allowed; over the limit for 3 h 34 min, once settled for good.",
      "43 pouch lie for longer than the limit of 6 min, the longest for 7.8 min; 3 of them still lie there at the end.",
      PERMITTED,
    ]);
    const [brief] = said({ limits: [{ ...HELD, settled_over_share: 0, place: "main" }] }, "limit");
    expect(brief).toContain("up to 633 pouch at main (first at");
    expect(brief).toMatch(/, once settled no longer\.$/);
    const [now] = said({ limits: [{ ...HELD, settled_over_share: 0.25 }] }, "limit");
    expect(now).toMatch(/, once settled 25 % of the time\.$/);
  });

  test("an item that nobody ever takes breaks the limit although none was taken late", () => {
    const [text] = said({ limits: [{ ...DWELL, item: null, over_items: 0, lying_over: 5, peak: 240 }] }, "limit");
    expect(text).toBe(
      "5 items lie for longer than the limit of 6 min, the longest for 4 h; 5 of them still lie there at the end.",
    );
  });

  test("are told of a line that stands still, too", () => {
    const output = { ...base.output, settled_per_min: "0" };
    const machines = base.machines.map((machine) => ({ ...machine, settled_per_min: "0" }));
    const texts = findings({ ...base, output, machines, limits: [HELD] });
    expect(texts.some(({ code }) => code === "stopped")).toBe(true);
    expect(texts.filter(({ code }) => code === "limit")).toHaveLength(2);
  });

  test("many are not told one by one", () => {
    const texts = said({ limits: Array.from({ length: 8 }, () => HELD) }, "limit");
    expect(texts).toHaveLength(6 + 2);
    expect(texts.at(-2)).toBe("2 more limits are exceeded.");
  });

  test("have a table", () => {
    expect(table({ limits: [HELD, DWELL] }, "Limits").slice(2)).toEqual([
      ["hold-up", "whole plant", "pouch", "600", "633", "29.1", "214.0", "100", "–", "–"],
      ["dwell", "whole plant", "pouch", "6 min", "7.8 min", "–", "–", "–", "40", "3"],
    ]);
  });
});

test("where items lie has a table, once there is more than one place", () => {
  const places = [
    { place: "main", part: "belts", item: "pouch", settled: 7.25, peak: 9 },
    { place: "cartoner", part: "infeed", item: "pouch", settled: 398.5, peak: 400 },
  ] as const;
  expect(table({ hold_up: { ...base.hold_up, by_place: places } }, "Hold-up by place").slice(2)).toEqual([
    ["main", "belts", "pouch", "7.3", "9"],
    ["cartoner", "infeed buffers", "pouch", "399", "400"],
  ]);
  expect(reportMarkdown(base, [])).not.toContain("### Hold-up by place");
});
