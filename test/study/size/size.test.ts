/** Plants worked out by hand: with a cycle of c seconds, 60/c cycles a minute; what is needed over that, rounded up. */
import { expect, test } from "vitest";
import { readDraft, readScenario } from "../../../src/scenario/read.ts";
import { countsOf, needsOf, outcomeOf, sizeOf } from "./sizing.ts";

test("two stages, an assembly, counts that don't come out even", () => {
  // 120/min each: 120/25, 120/25, 120/50 and 120/(300/13).
  const size = sizeOf(
    `machines:
  press:   { cycle: 2.4 s, takes: { blank: 1 }, makes: { body: 1 } }
  stamper: { cycle: 2.4 s, takes: { blank: 1 }, makes: { lid: 1 } }
  liner:   { cycle: 1.2 s, takes: { lid: 1 }, makes: { lined-lid: 1 } }
  seamer:  { cycle: 2.6 s, takes: { body: 1, lined-lid: 1 }, makes: { tin: 1 } }
`,
    { tin: "120/min" },
  );
  expect(countsOf(size)).toEqual({
    press: "5 at 24/25",
    stamper: "5 at 24/25",
    liner: "3 at 4/5",
    seamer: "6 at 13/15",
  });
  expect(size.machines.map(({ stage }) => stage)).toEqual([1, 1, 2, 3]);
  expect(size.feeds).toMatchObject([{ items: ["blank"], rate_per_min: "240", stated_per_min: null }]);
  // Five presses of 24/min, two stretches of the collecting belt, …
  expect(needsOf(size, "lined-lid")).toEqual(
    // Three liners of 40/min; six seamers of 20/min.
    ["40", "40", "80", "40", "120", "20", "100", "20", "80", "20", "60", "20", "40", "20", "20"],
  );
  expect(size.run).toMatchObject({ reached: true, proved: true, settled: [{ item: "tin", per_min: "125" }] });
  expect(size.scenario).toContain("rate: as needed");
  expect(size.enough_for).toBeNull();
});

test("a part used twice, several items a cycle", () => {
  // Strips: 50 + 3 · 40 = 170/min, two from a sheet, 60 sheets a minute and cutter: 17/12.
  const size = sizeOf(`wanted: { bracket: 50/min, frame: 40/min }
machines:
  cutter: { cycle: 1 s, takes: { sheet: 1 }, makes: { strip: 2 } }
  folder: { cycle: 2 s, takes: { strip: 1 }, makes: { bracket: 1 } }
  framer: { cycle: 2 s, takes: { strip: 3 }, makes: { frame: 1 } }
`);
  expect(countsOf(size)).toEqual({ cutter: "2 at 17/24", folder: "2 at 5/6", framer: "2 at 2/3" });
  expect(size.machines[0]).toMatchObject({ needs: "17/12", speed_to_fit: "17/24" });
  expect(size.feeds).toMatchObject([{ rate_per_min: "85" }]);
  expect(size.run).toMatchObject({ reached: true, proved: true });
});

test("what would take another's share runs at the speed to fit", () => {
  // One cutter makes just 100/min; at full speed the first user alone would take 90 of them.
  const size = sizeOf(`wanted: { a: 31/min, b: 69/min }
machines:
  cutter: { cycle: 0.6 s, takes: { sheet: 1 }, makes: { strip: 1 } }
  first:  { cycle: 2/3 s, takes: { strip: 1 }, makes: { a: 1 } }
  second: { cycle: 0.8 s, takes: { strip: 1 }, makes: { b: 1 } }
`);
  expect(countsOf(size)).toEqual({ cutter: "1 at 1", first: "1 at 31/90", second: "1 at 23/25" });
  expect(size.slowed).toEqual(["first", "second"]);
  expect(size.run.reached).toBe(true);
  expect(size.run.settled).toEqual([
    { item: "a", per_min: "31" },
    { item: "b", per_min: "69" },
  ]);
});

test("a product that returns: of ten tested one is repaired and tested again", () => {
  // 90 good are 100 tested, 10 repaired, so that 90 come anew.
  const size = sizeOf(`wanted: { good: 90/min }
machines:
  assembler: { cycle: 2 s, takes: { part: 2 }, makes: { unit: 1 } }
  tester:    { cycle: 5 s, takes: { unit: 10 }, makes: { good: 9, reject: 1 } }
  repairer:  { cycle: 20 s, takes: { reject: 1 }, makes: { unit: 1 } }
`);
  expect(countsOf(size)).toEqual({ assembler: "3 at 1", tester: "1 at 5/6", repairer: "4 at 5/6" });
  expect(size.feeds).toMatchObject([
    { feed: "part-feed", rate_per_min: "180" },
    { feed: "returned-unit", rate_per_min: "10" },
  ]);
  expect(size.returns).toEqual([{ item: "unit", feed: "returned-unit", per_min: "10" }]);
  expect(size.choices).toEqual([]);
  expect(size.run).toMatchObject({ reached: true, settled: [{ item: "good", per_min: "90" }] });
});

test("a kind made by two kinds of machine: the fewest machines, the less busy of equal plans", () => {
  const kinds = `machines:
  slow: { cycle: 3 s, takes: { body: 1 }, makes: { tin: 1 } }
  fast: { cycle: 0.7 s, takes: { body: 1 }, makes: { tin: 1 } }
`;
  const size = sizeOf(kinds, { tin: "100/min" });
  expect(countsOf(size)).toEqual({ slow: "0 at 0", fast: "2 at 7/12" });
  expect(size.choices).toEqual([{ item: "tin", groups: ["slow", "fast"] }]);
  expect(size.fewest_proved).toBe(true);
  expect(size.scenario).not.toContain("slow");
  // One slow one is there anyway, and with it one fast one is enough.
  const given = sizeOf(kinds.replace("cycle: 3 s", "count: 1, cycle: 3 s"), { tin: "100/min" });
  expect(given.machines).toMatchObject([{ count: 1 }, { count: 1 }]);
});

test("a kind that is wanted although machines take it leaves at the end of its line", () => {
  const size = sizeOf(`wanted: { tin: 40/min, lid: 10/min }
machines:
  stamper: { cycle: 1 s, takes: { blank: 1 }, makes: { lid: 1 } }
  seamer:  { cycle: 1 s, takes: { lid: 1 }, makes: { tin: 1 } }
`);
  expect(countsOf(size)).toEqual({ stamper: "1 at 5/6", seamer: "1 at 2/3" });
  expect(size.run.reached).toBe(true);
  expect(size.scenario).toContain("end: lid-out");
});

const STATED = `feeds: { dock: { item: body, rate: 70/min } }
machines:
  seamer: { count: 3, cycle: 2 s, takes: { body: 1 }, makes: { tin: 1 }, infeed: 40 }
  packer: { cycle: 30 s, takes: { tin: 24 }, makes: { case: 1 } }
lines:
  a: { layout: chain, from: dock, to: seamer, belt: { length: 3 m, speed: 8 m/min, pitch: 100 mm } }
  b: { layout: chain, from: seamer, to: packer }
`;

test("what is stated and too small, and what it is enough for", () => {
  // 5 cases are 120 tins: four seamers of 30, the first two stretches beyond the 80/min of the belt.
  const size = sizeOf(STATED, { case: "5/min" });
  expect(size.machines[0]).toMatchObject({ count: 4, stated_count: 3, enough_for: "3/4" });
  expect(size.feeds[0]).toMatchObject({ rate_per_min: "120", stated_per_min: "70", enough_for: "7/12" });
  expect(size.belts.filter(({ enough_for }) => enough_for !== null)).toEqual([
    { id: "a.through-1", line: "a", needs_per_min: "120", stated_per_min: "80", enough_for: "2/3" },
    { id: "a.through-2", line: "a", needs_per_min: "90", stated_per_min: "80", enough_for: "8/9" },
  ]);
  expect(size.enough_for).toBe("7/12");
  expect(size.run).toMatchObject({ reached: true, proved: true });
  const enough = sizeOf(STATED, { case: "35/12 /min" });
  expect(enough.enough_for).toBeNull();
  expect(readScenario(enough.scenario)).toMatchObject({ ok: true, scenario: { feeds: [{ ofNeed: null }] } });
});

test("what cannot be: left over with nowhere to go, used up, nothing wanted", () => {
  const cut = `machines:
  cutter: { cycle: 1 s, takes: { sheet: 1 }, makes: { body: 2, lid: 1 } }
  seamer: { cycle: 1 s, takes: { body: 1, lid: 1 }, makes: { tin: 1 } }
`;
  const outcome = outcomeOf(cut, { tin: "30/min" });
  expect(outcome).toMatchObject({ ok: false, why: "left-over", items: [{ item: "body" }] });
  expect(outcome.ok || outcome.items[0]?.perMin.toFraction()).toBe("30");
  const size = sizeOf(`${cut}outlets: { spare: { item: body } }\n`, { tin: "30/min" });
  expect(size.run.reached).toBe(true);
  const eater = "machines:\n  eater: { cycle: 1 s, takes: { cake: 2 }, makes: { cake: 1 } }\n";
  expect(outcomeOf(eater, { cake: "1/min" })).toMatchObject({ ok: false, why: "short" });
  expect(outcomeOf(cut)).toMatchObject({ ok: false, why: "nothing-wanted" });
  const unknown = readDraft(cut, { wanted: new Map([["tina", "30/min"]]) });
  expect(unknown).toMatchObject({ ok: false, findings: [{ code: "unknown-item", args: { nearest: "tin" } }] });
});

test("with chance machines are added until the interval lies at what is wanted", () => {
  const text = `horizon: 4 h
machines:
  wrapper: { cycle: 3 s, takes: { pack: 1 }, makes: { parcel: 1 }, infeed: 60 }
random:
  machines: { wrapper: { breakdowns: { between: { exponential: 20 min }, repair: { exponential: 6 min } } } }
`;
  const draft = readDraft(text, { wanted: new Map([["parcel", "80/min"]]) });
  expect(draft.ok).toBe(true);
  const size = sizeOf(text, { parcel: "80/min" });
  // Four of 20/min without chance; each is there for 20 of 26 minutes.
  const count = size.machines[0]?.count ?? 0;
  expect(count).toBeGreaterThanOrEqual(Math.ceil((4 * 26) / 20));
  expect(count).toBeLessThan(10);
  expect(size.under_chance).toMatchObject({ reached: true, added: [{ group: "wrapper", count: count - 4 }] });
  expect(size.under_chance?.settled[0]?.ci95?.[0]).toBeGreaterThanOrEqual(80);
  expect(size.run.proved).toBe(false);
});
