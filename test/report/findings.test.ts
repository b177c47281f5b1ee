import { describe, expect, test } from "vitest";
import type { Result } from "../../src/analysis/result.ts";
import { findings } from "../../src/report/run/findings.ts";
import { plain } from "../../src/report/text/figures.ts";
import type { FindingCode } from "../../src/report/text/finding.ts";
import { sample } from "./sample.ts";

const base = sample({ machines: 4, endMin: 14 }).result;

function said(result: Result, code: FindingCode): string {
  return findings(result)
    .filter((finding) => finding.code === code)
    .map(({ text }) => plain(text))
    .join(" | ");
}

function changed(settling: Partial<Result["settling"]>, output: Partial<Result["output"]> = {}): Result {
  return { ...base, settling: { ...base.settling, ...settling }, output: { ...base.output, ...output } };
}

describe("settled", () => {
  test("proved: when, at what, and the period", () => {
    const settling = { to_95_min: 8.4, to_99_min: 12.3, time_min: 14.93, period_min: 1 / 15 };
    expect(said(changed(settling), "settled")).toBe(
      "The line settles at 120/min of carton, its full output: 95 % of it from 8.4 min, all of it from 14.9 min. This is proved: its whole state recurs every 4 s.",
    );
  });

  test("where the last hundredth takes longest, it is told apart", () => {
    const settling = { to_95_min: 8.4, to_99_min: 9.5, time_min: 38 };
    expect(said(changed(settling), "settled")).toContain(
      ": 95 % of it from 8.4 min, 99 % from 9.5 min, all of it from",
    );
  });

  test("at once, and counted from the last change of the feed", () => {
    const settling = { to_95_min: 0, to_99_min: 0, time_min: 0, counted_from_min: 60 };
    expect(said(changed(settling), "settled")).toContain(
      ": 95 % and all of it at once, counted from the last change of the feed at 60 min.",
    );
  });

  test("by the flow solution: exact, but not proved", () => {
    const text = said(changed({ proved: false, basis: "flow", period_min: null }), "settled");
    expect(text).toContain("exact by the flow solution");
    expect(text).not.toContain("proved");
  });

  test("buffers that go on moving: how much of it counts as full", () => {
    const settling = { proved: false, basis: "flow", period_min: null, full_share: 0.999, to_95_min: 2, time_min: 3 };
    const text = said(changed({ ...settling, basis: "flow" }), "settled");
    expect(text).toContain("95 % of it from 2 min, 99.9 % from 3 min.");
    expect(text).toContain("buffers fill or drain for longer");
  });

  test("measured: said to be measured", () => {
    const measured = changed(
      { proved: false, basis: "measured", period_min: null, full_share: 0.99 },
      { settled_per_min: null, measured_per_min: 118.7 },
    );
    const text = said(measured, "settled");
    expect(text).toContain("118.7/min");
    expect(text).toContain("measured over the last half of the horizon of 4 h; nothing is proved");
  });

  test("not within the horizon", () => {
    const text = said(changed({ proved: false, basis: "measured", time_min: null, period_min: null }), "settled");
    expect(text).toContain("has not settled within the horizon of 4 h");
  });
});

test("the flow solution stands beside it, with the reason where the two part", () => {
  expect(said(changed({ time_min: 10, flow_time_min: "99/10" }), "flow")).toMatch(/settles at 9\.9 min\.$/);
  expect(said(changed({ time_min: 12, flow_time_min: "10" }), "flow")).toBe(
    "The flow solution beside it, in which belts take no time and items are a fluid, settles at 10 min, 2 min earlier.",
  );
  expect(said(changed({ time_min: 10, flow_time_min: "12" }), "flow")).toContain("2 min later");
  expect(said({ ...base, flow: null, no_flow: "a test" }, "flow")).toBe("There is no flow solution beside it: a test.");
});

test("the loss in items and in time of settled output; a gain, nothing, and from when it counts", () => {
  expect(said(changed({}, { ramp_up_loss: 604, ramp_up_loss_min: 2.5 }), "loss")).toBe(
    "The ramp-up costs 604 items against running at the settled output from the start, 2.5 min of settled output.",
  );
  const gained = changed({ counted_from_min: 60 }, { ramp_up_loss: -480, ramp_up_loss_min: -2 });
  expect(said(gained, "loss")).toBe(
    "The ramp-up brings 480 items more than running at the settled output from the last change of the feed, 2 min of settled output.",
  );
  expect(said(changed({}, { ramp_up_loss: -0.2, ramp_up_loss_min: -0.001 }), "loss")).toMatch(/costs nothing/);
});

test("who is last, and who never gets there", () => {
  const machines = base.machines.map((machine, i) => ({ ...machine, full_rate_from_min: [1, 2, 10, null][i] ?? null }));
  expect(said({ ...base, machines }, "last")).toBe(
    "Last to run at its long-run rate for good: cartoner-3, from 10 min on. cartoner-4 does not by the end.",
  );
});

test("an undersupplied line: what it reaches and who starves by how much", () => {
  const machines = base.machines.map((machine, i) => ({
    ...machine,
    settled_per_min: ["30", "30", "15", "15"][i] ?? "30",
    minutes: { ...machine.minutes, starved: i > 1 ? 100 : 0 },
  }));
  const feeds = base.feeds.map((feed) => ({ ...feed, rate_per_min: "90", settled_per_min: "90" }));
  const short: Result = { ...changed({}, { settled_per_min: "90" }), machines, feeds };
  expect(said(short, "short")).toBe(
    "Too little is fed: of its full output of 120/min it reaches 75 %. In the long run these starve: cartoner-3 (50 % of its need) and cartoner-4 (50 % of its need).",
  );
  expect(said(short, "settled")).not.toContain("full output");
  expect(said(base, "short")).toBe("");
});

describe("why a line falls short of its full output", () => {
  const machines = base.machines.map((machine, i) => ({
    ...machine,
    settled_per_min: i < 2 ? "30" : "20",
    minutes: { ...machine.minutes, starved: i < 2 ? 0 : 100 },
  }));
  const short: Result = { ...changed({}, { settled_per_min: "100" }), machines };
  const heldBack = base.feeds.map((feed) => ({ ...feed, rate_per_min: "120", settled_per_min: "100" }));
  const belts = base.belts.map((belt, i) => ({
    ...belt,
    settled_per_min: "100",
    headroom_per_min: i === 0 ? "0" : "5",
  }));

  test("a belt at its limit holds the feed back: said once, with the belt, the feed and who starves", () => {
    const result = { ...short, feeds: heldBack, belts };
    expect(said(result, "short")).toBe(
      "main.through-1 carries only 100/min: of the 120/min fed the line takes 100/min; of its full output of 120/min it reaches 83.3 %. In the long run these starve: cartoner-3 (66.7 % of its need) and cartoner-4 (66.7 % of its need).",
    );
    expect(said(result, "feed-held") + said(result, "headroom")).toBe("");
  });

  test("a branch that gives its machine all it needs is at its limit, and not the cause", () => {
    const branch = belts.map((belt, i) => (i === 0 ? { ...belt, to: "cartoner-1" } : belt));
    const result = { ...short, feeds: heldBack, belts: branch };
    expect(said(result, "short")).toMatch(/^The line is held up: of its full output/);
    expect(said(result, "headroom")).toContain("main.through-1");
    expect(said(result, "feed-held")).toContain("blender");
  });

  test("of two kinds the one that is wholly taken is short", () => {
    const trays = {
      ...base.feeds[0],
      id: "trays",
      items: [{ item: "tray", share: "1" }],
      rate_per_min: "100",
      settled_per_min: "100",
      fed: 9,
    };
    const both = sample({ machines: 4, twoKinds: true }).result.machines.map((machine, i) => ({
      ...machine,
      settled_per_min: "25",
      minutes: machines[i]?.minutes ?? machine.minutes,
    }));
    const result = { ...short, machines: both, feeds: [...heldBack, trays] };
    expect(said(result, "short")).toMatch(/^Too little tray is fed \(100\/min of 120\/min\): of its full output/);
  });

  test("outlets take what is wanted, and feeds give too little of another kind", () => {
    const feeds = base.feeds.map((feed) => ({ ...feed, rate_per_min: "120", settled_per_min: "120" }));
    const outlets = [
      { id: "spare", items: [{ item: "pouch", settled_per_min: "20" }], settled_per_min: "20", left: 9 },
    ];
    const one = { element: "main.divider-4", machines: [], lost_per_min: 20 };
    const bottlenecks: Result["bottlenecks"] = [
      { ...one, alike: [], code: "taken-off", item: "pouch", outlet: "spare" },
    ];
    expect(said({ ...short, feeds, outlets, bottlenecks }, "short")).toMatch(
      /^Enough is fed, but 20\/min of pouch, which is wanted, leave by spare: of its/,
    );
    const fewer = base.feeds.map((feed) => ({ ...feed, rate_per_min: "110", settled_per_min: "110" }));
    expect(said({ ...short, feeds: fewer, outlets, bottlenecks }, "short")).toMatch(
      /^Too little pouch is fed \(110\/min of 120\/min\); besides, 20\/min of pouch, which is wanted, leave by spare: of its/,
    );
    const unwanted: Result["bottlenecks"] = [{ ...one, alike: [], code: "short-feed", item: "pouch" }];
    expect(said({ ...short, feeds: fewer, outlets, bottlenecks: unwanted }, "short")).toMatch(
      /^Too little is fed: of its/,
    );
  });
});

describe("a line that stops for good", () => {
  const waiting = (levels: readonly (readonly [item: string, level: number])[]) =>
    levels.map(([item, level]) => ({
      item,
      needs_per_min: "30",
      settled_per_min: "0",
      capacity: 20,
      full_at_min: level === 20 ? 1 : null,
      settled_low: level,
      settled_high: level,
    }));
  const [first, second] = base.machines;
  if (first === undefined || second === undefined) throw new Error("too few machines");
  const minutes = { running: 0, starved: 240, blocked: 0, down: 0, held: 0 };
  const stopped = (machines: Result["machines"], settling: Partial<Result["settling"]> = {}): Result => ({
    ...changed({ time_min: 23.05, ...settling }, { settled_per_min: "0", ramp_up_loss: -1920 }),
    machines: machines.map((machine) => ({ ...machine, settled_per_min: "0", minutes })),
  });

  test("says since when, and what each machine waits for", () => {
    const result = stopped([
      {
        ...first,
        infeed: waiting([
          ["bottle", 20],
          ["lid", 0],
        ]),
      },
      {
        ...second,
        infeed: waiting([
          ["bottle", 0],
          ["lid", 20],
        ]),
      },
    ]);
    expect(said(result, "stopped")).toBe(
      "The line stops for good: nothing is made from 23.1 min on. cartoner-1 waits for lid with the bottle buffer full. cartoner-2 waits for bottle with the lid buffer full. This is proved: its whole state recurs.",
    );
    for (const code of ["settled", "stretch", "short", "loss", "last", "headroom", "feed-held"] as const) {
      expect(said(result, code)).toBe("");
    }
  });

  test("a feed that ends is named as the reason, and machines alike are told together", () => {
    const own = waiting([["pouch", 0]]);
    const machines = [
      { ...first, infeed: own },
      { ...second, infeed: own },
    ];
    const feeds = base.feeds.map((feed) => ({ ...feed, rate_per_min: "0", settled_per_min: "0" }));
    const text = said({ ...stopped(machines), feeds }, "stopped");
    expect(text).toContain("No feed offers anything any more. cartoner-1 and cartoner-2 wait for pouch.");
  });

  test("nothing made at all", () => {
    const result = stopped([], { time_min: 0 });
    expect(said({ ...result, output: { ...result.output, made: 0 } }, "stopped")).toMatch(
      /^The line stops for good: nothing is ever made\./,
    );
  });
});

test("kinds of products are told apart, and so are the dwells of kinds taken", () => {
  const kinds = changed({}, { settled_per_min: "635/8", settled_by_item_per_min: { wrapped: "285/4", box: "65/8" } });
  expect(said(kinds, "settled")).toContain("settles at 79.375/min (71.25 wrapped, 8.125 box): 95 %");
  const dwell = { ...base.dwell, mean_min: 0.8, longest_min: 2.9, by_item_min: { pouch: 0.9, tray: 1.8 } };
  expect(said({ ...base, dwell }, "dwell")).toBe(
    "From feed or machine to machine an item takes 48 s on average once settled (pouch 54 s, tray 1.8 min); at longest, over the whole run, 2.9 min.",
  );
});

test("a line that gains has no negative loss", () => {
  const [line] = base.lines;
  if (line === undefined) throw new Error("no line");
  const lines = [line, { ...line, id: "second", output: { ...line.output, ramp_up_loss: -36 } }];
  const text = said({ ...base, lines }, "line");
  expect(text).toContain(", 36 items more than at that rate from the start.");
  expect(text).not.toMatch(/loss [−-]/);
});

test("a warning of the reading is said to be one once, with its place", () => {
  const warnings = ['line.yaml:7:3: warning: no "scoop" can come'];
  expect(said({ ...base, warnings }, "warning")).toBe('no "scoop" can come (line.yaml:7:3)');
});

test("rates that differ a little look different", () => {
  const feeds = base.feeds.map((feed) => ({ ...feed, rate_per_min: "7207/60", settled_per_min: "7200/60" }));
  expect(said({ ...base, feeds }, "feed-held")).toContain("Of the 120.1/min that feed");
  const near = base.feeds.map((feed) => ({ ...feed, rate_per_min: "720011/6000", settled_per_min: "120" }));
  expect(said({ ...base, feeds: near }, "feed-held")).toContain("Of the 120.002/min that feed");
});

test("a line held up from behind is called blocked, not starved", () => {
  const machines = base.machines.map((machine) => ({
    ...machine,
    settled_per_min: "15",
    minutes: { ...machine.minutes, starved: 1, blocked: 100 },
  }));
  const feeds = base.feeds.map((feed) => ({ ...feed, rate_per_min: "120", settled_per_min: "60" }));
  const text = said({ ...changed({}, { settled_per_min: "60" }), machines, feeds }, "short");
  expect(text).toContain("The line is held up");
  expect(text).toContain("blocked: cartoner-1 (50 % of its need)");
  expect(text).not.toContain("starve");
});

test("a creeping buffer: which, how fast, until when", () => {
  const still = [
    { buffer: "cartoner-7", rate_per_min: "1/4", done_at_min: 412.5 },
    { buffer: "cartoner-8.tray", rate_per_min: "-1/8", done_at_min: null },
  ];
  expect(said(changed({ still_changing: still }), "changing")).toBe(
    "At the end of the horizon the buffer of cartoner-7 still fills by 0.25/min; full at 6 h 53 min. | At the end of the horizon the buffer of cartoner-8.tray still drains by 0.125/min; it is never done before something else changes it.",
  );
});

test("belts without headroom are named; what a feed offers in vain is said", () => {
  const belts = base.belts.map((belt, i) => ({ ...belt, headroom_per_min: i === 1 ? "0" : "5" }));
  expect(said({ ...base, belts }, "headroom")).toBe("A belt has no headroom in the long run: main.through-2.");
  const feeds = base.feeds.map((feed) => ({ ...feed, rate_per_min: "126", settled_per_min: "120" }));
  expect(said({ ...base, feeds }, "feed-held")).toBe(
    "Of the 126/min that feed blender offers, the line takes 120/min in the long run.",
  );
});

test("hold-up and dwell", () => {
  const hold_up = { ...base.hold_up, peak: 640, peak_at_min: 14.9, settled: 633 };
  const dwell = { ...base.dwell, mean_min: 2.6, longest_min: 3.5 };
  expect(said({ ...base, hold_up, dwell }, "hold-up")).toBe(
    "On belts and in buffers lie at most 640 items, at 14.9 min; 633 items once settled.",
  );
  expect(said({ ...base, hold_up, dwell }, "dwell")).toContain("; at longest, over the whole run, 3.5 min.");
  expect(said({ ...base, dwell: { ...base.dwell, mean_min: null, longest_min: null } }, "dwell")).toBe("");
});

test("several lines are told one by one, warnings right after the first finding", () => {
  const line = base.lines[0];
  const lines = line === undefined ? [] : [line, { ...line, id: "second" }];
  const found = findings({ ...base, lines, warnings: ["two\nlines"] });
  expect(found.filter(({ code }) => code === "line")).toHaveLength(2);
  expect(found[1]).toEqual({ code: "warning", text: "two lines" });
});
