/** What the findings say of whole plants, simulated: why output is short, what leaves, and what jams. */
import { describe, expect, test } from "vitest";
import type { Result } from "../../src/analysis/result.ts";
import { findings } from "../../src/report/run/findings.ts";
import { reportMarkdown } from "../../src/report/run/run-report.ts";
import { plain } from "../../src/report/text/figures.ts";
import type { FindingCode } from "../../src/report/text/finding.ts";
import { causeOf, resultOf, waitOf } from "../analysis/plant-files.ts";

function said(result: Result, code: FindingCode): string[] {
  return findings(result).flatMap((finding) => (finding.code === code ? [plain(finding.text)] : []));
}

const BELT = "{ rate: 150/min, length: 2 m, speed: 30 m/min, pitch: 150 mm }";

/** Two machines that fold grey socks, then two that fold navy ones, on one chain (invented). */
function socks(items: string, rate: string, chain: string, outlets = ""): Result {
  return resultOf(`
horizon: 4 h
feeds: { knit: { items: ${items}, rate: ${rate} } }
machines:
  folder-g: { count: 2, cycle: 2 s, takes: { grey: 1 }, makes: { pair: 1 }, infeed: 20 }
  folder-n: { count: 2, cycle: 2 s, takes: { navy: 1 }, makes: { pair: 1 }, infeed: 20 }
lines: { main: { layout: chain, from: knit, to: [folder-g, folder-n], belt: ${BELT}, ${chain} } }
outlets: { out: { item: pair }, ${outlets} }
`);
}

/** Machines that take a cup and a lid together, from one chain (invented). */
function kits(items: string, rate: string, chain: string, outlets = ""): Result {
  return resultOf(`
horizon: 4 h
feeds: { mix: { items: ${items}, rate: ${rate} } }
machines:
  kitter: { count: 4, cycle: 3 s, takes: { cup: 1, lid: 1 }, makes: { kit: 1 }, infeed: { cup: 20, lid: 20 } }
lines: { main: { layout: chain, from: mix, belt: ${BELT}, ${chain} } }
${outlets}
`);
}

describe("what a take-off lets go", () => {
  // 60/min of grey come, and folder-g-1 and -2 could take all of it; divider-2 takes turns with what also carries navy.
  const result = socks("{ grey: 3, navy: 2 }", "100/min", "end: spare", "spare: { item: grey }");

  test("is the cause of a wait for it, at the last divider before the machine, and no feed is", () => {
    expect(causeOf(result, "folder-g-2", "grey")).toEqual({
      code: "taken-off",
      element: "main.divider-2",
      alike: [],
      item: "grey",
      via: [],
      served_first: [],
      outlet: "spare",
    });
    expect(causeOf(result, "folder-n-1", "navy").code).toBe("short-feed");
    expect(result.bottlenecks?.map(({ code, element, lost_per_min: lost }) => [code, element, lost])).toEqual([
      ["short-feed", "knit", 20],
      ["taken-off", "main.divider-2", 10],
    ]);
  });

  test("is judged kind by kind: of one too little is fed, of the other some that is wanted leaves", () => {
    expect(said(result, "short")[0]).toMatch(
      /^Too little navy is fed \(40\/min of 60\/min\); besides, 10\/min of grey, which is wanted, leave by spare: of its/,
    );
  });

  test("stands in the result by outlet and kind, what is fed against what is taken", () => {
    const grey = result.machines.filter(({ infeed }) => infeed.some(({ item }) => item === "grey"));
    const taken = grey.reduce((total, { settled_per_min: rate }) => total + Number(rate), 0);
    expect(60 - taken).toBe(10);
    expect(result.outlets).toEqual([
      {
        id: "spare",
        items: [{ item: "grey", settled_per_min: "10" }],
        settled_per_min: "10",
        left: expect.any(Number),
      },
    ]);
    expect(result.outlets[0]?.left).toBeGreaterThan(2300);
    expect(result.outlets[0]?.left).toBeLessThan(2400);
    expect(said(result, "outlet")).toEqual(["10/min of grey, 16.7 % of what comes, leave by spare."]);
    expect(reportMarkdown(result, [])).toMatch(/### Outlets\n\n.*\n.*\n\| spare \| grey \| 10 \| 23\d\d \|/);
  });

  test("is no reason where nobody wants it", () => {
    const more = socks(
      "{ grey: 4, navy: 1 }",
      "100/min",
      "dividers: branch-first, end: spare",
      "spare: { item: grey }",
    );
    expect(said(more, "short")[0]).toMatch(/^Too little navy is fed \(20\/min of 60\/min\): of its/);
    expect(said(more, "outlet")).toEqual(["20/min of grey, 25 % of what comes, leave by spare."]);
  });

  test("of kinds taken together", () => {
    const result = kits(
      "{ cup: 1, lid: 1 }",
      "100/min",
      "to: [kitter, spare], branch: none, end: lidout",
      "outlets: { spare: { item: cup }, lidout: { item: lid } }",
    );
    for (const [machine, item, outlet] of [
      ["kitter-2", "cup", "spare"],
      ["kitter-3", "cup", "spare"],
      ["kitter-4", "lid", "lidout"],
    ] as const) {
      expect(causeOf(result, machine, item)).toMatchObject({ code: "taken-off", outlet });
    }
    expect(said(result, "wait")[0]).toMatch(/ on to spare, and of the 80\/min needed only 50\/min are fed\.$/);
  });
});

describe("a jam", () => {
  test("that dividers make, since they send on a kind of which no more comes than can be taken", () => {
    const result = socks("{ grey: 3, navy: 2 }", "100/min", "end: stop");
    expect(result.jams?.[0]?.dividers).toEqual([{ divider: "main.divider-2", takes_turns: true }]);
    expect(said(result, "jam")[0]).toContain(
      "As a whole the mix fits (60/min of grey come, 60/min can be taken): main.divider-2, which takes turns, sends some of it on past the last machine that takes it. What may help: dividers that serve the branch first,",
    );
    expect(socks("{ grey: 3, navy: 2 }", "100/min", "dividers: branch-first").jams).toEqual([]);
  });

  test("of kinds taken together: each against what the other allows, and both in one branch", () => {
    const result = kits("{ cup: 51, lid: 49 }", "100/min", "to: kitter");
    expect(result.mixes[0]?.kinds).toEqual([
      { item: "cup", offered_per_min: "51", takeable_per_min: "80", beside_per_min: "49" },
      { item: "lid", offered_per_min: "49", takeable_per_min: "80", beside_per_min: "51" },
    ]);
    const [cup = "", lid = ""] = said(result, "jam");
    expect(cup).toContain("51/min of cup come, 49/min can be taken beside what comes of the other kinds.");
    expect(cup).toContain("cup and lid come to kitter-1 in one branch, where one keeps back the other: no belt there");
    expect(lid).toContain("No more lid comes than can be taken (49/min of lid come, 51/min can be taken beside");
    expect(`${cup}${lid}`).not.toContain("%");
    expect(reportMarkdown(result, [])).toContain("| main | cup | 51 | 80 | 49 |");
  });

  test("before the last machine of a chain, that no branch leads to", () => {
    const result = kits("{ cup: 3, lid: 2 }", "100/min", "to: kitter, branch: none");
    expect(said(result, "jam")[0]).toContain(
      "60/min of cup come, 40/min can be taken beside what comes of the other kinds. cup and lid come to kitter-4 by one belt, where one keeps back the other: a belt for each kind (layout: custom, each belt with its only: [kind]), or a way on for what has no room, would keep them apart.",
    );
  });

  test("of a line with a return: which buffers are full is known though items circulate for ever", () => {
    const result = kits("{ cup: 3, lid: 2 }", "100/min", "to: kitter, end: return");
    expect(said(result, "stopped")[0]).toContain("kitter-4 wait for lid with the cup buffer full.");
    for (const { infeed } of result.machines) {
      expect(infeed.map(({ settled_low: low, settled_high: high }) => [low, high])).toEqual([
        [20, 20],
        [0, 0],
      ]);
    }
  });
});

test("a machine behind a slow belt waits for the belt, those behind the rest for the feed", () => {
  const result = resultOf(`
horizon: 3 h
feeds: { mill: { item: lump, rate: 110/min } }
machines:
  boxer: { cycle: 2 s, takes: { lump: 1 }, makes: { box: 1 }, infeed: 40 }
  bagger: { count: 2, cycle: 1 s, takes: { lump: 1 }, makes: { bag: 1 }, infeed: 40 }
lines:
  main:
    layout: custom
    dividers: { cut: ordered, rest: even }
    belts:
      in: { from: mill, to: cut, rate: 200/min, length: 4 m, speed: 30 m/min, pitch: 150 mm }
      slow: { from: cut, to: boxer, rate: 25/min, length: 3 m, speed: 10 m/min, pitch: 150 mm }
      fast: { from: cut, to: rest, rate: 150/min, length: 3 m, speed: 30 m/min, pitch: 150 mm }
      l: { from: rest, to: bagger-1, rate: 150/min, length: 3 m, speed: 30 m/min, pitch: 150 mm }
      r: { from: rest, to: bagger-2, belt: none }
`);
  expect(causeOf(result, "boxer", "lump")).toMatchObject({ code: "belt", element: "main.slow" });
  for (const bagger of ["bagger-1", "bagger-2"]) {
    expect(causeOf(result, bagger, "lump")).toMatchObject({ code: "short-feed", element: "mill" });
  }
});

describe("vehicles", () => {
  const dock = (batch: string): Result =>
    resultOf(`
horizon: 6 h
tick: 50 ms
feeds: { dock: { item: log, batch: ${batch}, surge: 1000 } }
machines: { chipper: { count: 4, cycle: 3 s, takes: { log: 1 }, makes: { bag: 1 }, infeed: 50 } }
lines:
  main: { layout: chain, from: dock, to: chipper, belt: { rate: 400/min, length: 3 m, speed: 40 m/min, pitch: 100 mm } }
`);

  test("unloaded too slowly are the cause themselves, and put off those after them", () => {
    const result = dock("{ every: 20 min, items: 1600, rate: 60/min }");
    expect(causeOf(result, "chipper-4", "log")).toMatchObject({ code: "slow-unloading", element: "dock" });
    expect(said(result, "short")[0]).toMatch(/^dock is unloaded at 60\/min and no faster: of its/);
    const texts = said(result, "batch").join(" ");
    expect(texts).not.toContain("is taken");
    expect(texts).toContain("; dock is unloaded at 60/min and no faster.");
    expect(texts).toContain(
      "vehicles cannot keep their interval: of the 80/min that they would bring at most 60/min are unloaded; of the 4 vehicles due in that time 3 are unloaded, since one that waits for a whole interval puts off those after it.",
    );
  });

  test("held up by the line are put off likewise", () => {
    const texts = said(dock("{ every: 20 min, items: 2000, rate: 400/min }"), "batch").join(" ");
    expect(texts).toContain("of the 5 vehicles due in that time 4 are unloaded");
  });

  test("in time for one another put nobody off", () => {
    const texts = said(dock("{ every: 20 min, items: 1600, rate: 400/min }"), "batch").join(" ");
    expect(texts).not.toContain("due in that time");
  });
});

test("a machine that is too slow while it runs, and waits at other times, is the cause of blocking at these", () => {
  const result = resultOf(`
horizon: 6 h
feeds:
  clay: { item: tile, rate: 100/min }
  glaze: { item: pot, batch: { every: 30 min, items: 360, rate: 100/min }, surge: 200 }
machines:
  kiln: { count: 2, cycle: 6 s, takes: { tile: 4, pot: 1 }, makes: { fired: 4 }, infeed: { tile: 40, pot: 10 }, outfeed: 8 }
  crater: { cycle: 8 s, takes: { fired: 8 }, makes: { crate: 1 }, infeed: 40 }
lines:
  tiles: { layout: chain, from: clay, to: kiln, belt: { rate: 150/min, length: 3 m, speed: 20 m/min, pitch: 100 mm } }
  pots: { layout: chain, from: glaze, to: kiln, belt: { rate: 60/min, length: 3 m, speed: 10 m/min, pitch: 100 mm } }
  out: { layout: chain, from: kiln, to: crater, belt: { rate: 100/min, length: 3 m, speed: 20 m/min, pitch: 100 mm } }
limits:
  at: { glaze: { pot: 250 }, out: { fired: 2 } }
`);
  expect(waitOf(result, "kiln-1", "fired").settled_share).toBeGreaterThan(0);
  expect(causeOf(result, "kiln-1", "fired")).toMatchObject({ code: "at-times", element: "crater", item: "fired" });
  expect(reportMarkdown(result, [])).toContain("at times more fired comes than the 60/min that crater takes");
  expect(said(result, "limit").join(" ")).toMatch(/The other limit is kept: at most \d+ of 250 pot at glaze\./);
});

describe("one machine that makes two kinds for one consumer", () => {
  const stamped = (lines: string): Result =>
    resultOf(`
horizon: 2 h
feeds: { stock: { item: sheet, rate: 30/min } }
machines:
  press: { cycle: 6 s, takes: { sheet: 3 }, makes: { body: 3, lid: 3 }, infeed: 20, outfeed: 20 }
  joiner: { cycle: 2 s, takes: { body: 1, lid: 1 }, makes: { tin: 1 }, infeed: { body: 2, lid: 9 } }
lines:
  sheets: { layout: chain, from: stock, to: press, belt: none }
${lines}
`);
  const belt = "rate: 90/min, capacity: 20, transit: 4 s";
  const jammed = stamped(`  parts: { layout: chain, from: press, to: joiner, belt: { ${belt} } }`);
  const apart = stamped(`  parts:
    layout: custom
    belts:
      bodies: { from: press, to: joiner, only: [body], ${belt} }
      lids: { from: press, to: joiner, only: [lid], ${belt} }
`);

  test("runs where each kind has a belt of its own, as it is advised to have", () => {
    expect(jammed.output.settled_per_min).toBe("0");
    expect(said(jammed, "jam").join(" ")).toContain(
      "a belt for each kind (layout: custom, each belt with its only: [kind])",
    );
    expect(apart.output.settled_per_min).toBe("30");
    expect(said(apart, "jam")).toEqual([]);
  });
});
