import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { ratio, whole } from "../../src/quantity/rational.ts";
import { formatFinding } from "../../src/scenario/file-finding.ts";
import { readScenario } from "../../src/scenario/read.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { statedParts, type Tactic } from "../../src/scenario/tactic.ts";
import { saysStart } from "../../src/scenario/tactic-parts.ts";
import type { Among } from "../../src/scenario/tactic-shapes.ts";
import { writeScenario } from "../../src/scenario/write.ts";
import { CUSTOM_EXAMPLE, EXAMPLE, plain, TACTICS_EXAMPLE } from "./example.ts";

function read(text: string): Scenario {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  return outcome.scenario;
}

const NO_PARTS = {
  prefill: null,
  hold: null,
  stagger: null,
  boost: null,
  lowLevel: null,
  metered: null,
  farEndFirst: null,
  secondFeed: null,
};
const all: Among = { which: "all" };
const inAll = { among: all, amount: null };
const PLAIN_PREFILL = { belts: false, byHandPerMin: null, while: "stopped" } as const;

const tactic = (id: string, parts: Partial<Tactic>): Tactic => ({ id, ...NO_PARTS, ...parts });

/** The parts of one tactic of the chain. */
const partsOf = (body: string) => read(`${EXAMPLE}tactics: { t: ${body} }\n`).tactics[0];

test("every form", () => {
  expect(plain(read(TACTICS_EXAMPLE).tactics)).toEqual(
    plain([
      tactic("hand-filled", {
        prefill: {
          ...PLAIN_PREFILL,
          amounts: { byMachine: [{ machine: "cartoner", amount: 100 }] },
          byHandPerMin: whole(60),
        },
      }),
      tactic("stocked", { prefill: { ...PLAIN_PREFILL, amounts: inAll } }),
      tactic("tail-stocked", {
        prefill: { ...PLAIN_PREFILL, amounts: { among: { which: "last", count: 3 }, amount: 40 } },
      }),
      tactic("belts-too", {
        prefill: { amounts: inAll, belts: true, byHandPerMin: whole(60), while: "stopped" },
      }),
      tactic("fill-then-go", { hold: { until: "all-full", release: "together", everyMin: whole(0) } }),
      tactic("tail-go", {
        hold: { until: { afterMin: whole(5) }, release: "tail-first", everyMin: ratio(1n, 6n) },
      }),
      tactic("staggered", { stagger: { first: "tail", everyMin: ratio(1n, 2n) } }),
      tactic("boosted", { boost: { factor: ratio(6n, 5n), forMin: whole(10) } }),
      tactic("low", { lowLevel: { level: 20, among: all, forMin: whole(10) } }),
      tactic("metered", { metered: { factor: ratio(21n, 20n) } }),
      tactic("far-end", { farEndFirst: { until: "tail-full" } }),
      tactic("second", { secondFeed: { share: ratio(3n, 10n), at: "cartoner-8", forMin: whole(10) } }),
    ]),
  );
});

describe("what is not stated", () => {
  test.each<[string, Partial<Tactic>]>([
    ["{ hold: { until: own-full } }", { hold: { until: "own-full", release: "together", everyMin: whole(0) } }],
    ["{ low-level: { at: 1 } }", { lowLevel: { level: 1, among: all, forMin: null } }],
    ["{ low-level: { at: 1, of: first 2, for: good } }", { lowLevel: { level: 1, among: first(2), forMin: null } }],
    ["{ far-end-first: { until: 90 s } }", { farEndFirst: { until: { afterMin: ratio(3n, 2n) } } }],
    ["{ second-feed: { share: 1 %, for: 1 h } }", { secondFeed: second() }],
    ["{ metered: { at: 100 % } }", { metered: { factor: whole(1) } }],
  ])("%s", (body, parts) => expect(plain(partsOf(body))).toEqual(plain(tactic("t", parts))));

  function first(count: number): Among {
    return { which: "first", count };
  }
  function second() {
    return { share: ratio(1n, 100n), at: null, forMin: whole(60) };
  }
});

test("parts go together", () => {
  expect(plain(partsOf("{ prefill: 100, boost: { to: 101 %, for: 1 s }, metered: { at: 2000/19 % } }"))).toEqual(
    plain(
      tactic("t", {
        prefill: { ...PLAIN_PREFILL, amounts: { among: all, amount: 100 } },
        boost: { factor: ratio(101n, 100n), forMin: ratio(1n, 60n) },
        metered: { factor: ratio(20n, 19n) },
      }),
    ),
  );
});

test("amounts keep the file's order, each its own, by machine or group", () => {
  const text = `${CUSTOM_EXAMPLE}tactics: { t: { prefill: { packer: full, filler-2: 30, filler-1: 1 } } }\n`;
  expect(read(text).tactics[0]?.prefill?.amounts).toEqual({
    byMachine: [
      { machine: "packer", amount: null },
      { machine: "filler-2", amount: 30 },
      { machine: "filler-1", amount: 1 },
    ],
  });
});

test("a group of one lends its machine its name", () => {
  const text = CUSTOM_EXAMPLE.replace("packer: { cycle", "packer: { count: 1, cycle");
  const at = `${text}tactics: { t: { second-feed: { share: 5 %, at: packer, for: 1 min } } }\n`;
  expect(read(at).tactics[0]?.secondFeed?.at).toBe("packer-1");
});

describe("room", () => {
  const refusal = (text: string) => {
    const outcome = readScenario(text);
    return outcome.ok ? null : outcome.findings.map((finding) => formatFinding(finding, "f"));
  };
  // The fillers have room for 30, the packer for 24.
  const custom = (prefill: string) => refusal(`${CUSTOM_EXAMPLE}tactics: { t: { prefill: ${prefill} } }\n`);

  test("an amount for all fits the smallest buffer", () => {
    expect(custom("24")).toBeNull();
    expect(custom("25")).toEqual(['f:33:26: 25 items in a buffer of "packer", which has room for 24 of "filled"']);
  });

  test("an amount for one fits its own", () => {
    expect(custom("{ filler-1: 30 }")).toBeNull();
    expect(custom("{ filler-1: 31 }")).toEqual([
      'f:33:38: 31 items in a buffer of "filler-1", which has room for 30 of "can"',
    ]);
  });

  test("of several kinds, the one with least room counts", () => {
    const text = EXAMPLE.replace("takes: { pouch: 1 }", "takes: { pouch: 1, leaflet: 1 }")
      .replace("infeed: 100", "infeed: { pouch: 100, leaflet: 7 }")
      .replace("feeds:\n", "feeds:\n  press: { item: leaflet, rate: 1/min }\n")
      .replace("[blender]", "[blender, press]");
    expect(refusal(`${text}tactics: { t: { prefill: 7 } }\n`)).toBeNull();
    expect(refusal(`${text}tactics: { t: { prefill: { cartoner-1: 8 } } }\n`)?.[0]).toMatch(/7 of "leaflet"$/);
  });

  test("of a few machines, only theirs counts", () => {
    const packer = "machines:\n  packer: { cycle: 2 s, takes: { pouch: 1 }, makes: { carton: 1 }, infeed: 9 }\n";
    const text = EXAMPLE.replace("machines:\n", packer).replace("[cartoner]", "[cartoner, packer]");
    const few = (of: string) => refusal(`${text}tactics: { t: { prefill: 10, prefill-of: ${of} } }\n`);
    expect(["first 8", "first 9", "last 1", "all"].map((of) => few(of)?.length ?? 0)).toEqual([0, 1, 1, 1]);
  });
});

describe("written and read again", () => {
  test("the example", () => {
    const scenario = read(TACTICS_EXAMPLE);
    expect(plain(read(writeScenario(scenario)).tactics)).toEqual(plain(scenario.tactics));
  });

  test("any tactic", () => {
    const rational = fc.tuple(fc.integer({ min: 1, max: 999 }), fc.integer({ min: 1, max: 99 })).map(([n, d]) => {
      return ratio(BigInt(n), BigInt(d));
    });
    const among = fc.oneof(
      fc.constant(all),
      fc.record({ which: fc.constantFrom("first", "last"), count: fc.integer({ min: 1, max: 20_000 }) }),
    );
    const amount = fc.option(fc.integer({ min: 1, max: 100 }));
    const machine = fc.constantFrom(...[1, 2, 3, 4, 5, 6, 7, 8].map((n) => `cartoner-${n}`));
    const byMachine = fc.uniqueArray(fc.record({ machine, amount }), { minLength: 1, selector: (one) => one.machine });
    const time = fc.record({ afterMin: rational });
    const above = rational.map((value) => value.div(1000n).add(1n));
    const any: fc.Arbitrary<Tactic> = fc
      .record({
        id: fc.constantFrom("t", "7", "None", "toString"),
        prefill: fc.option(
          fc
            .record({
              amounts: fc.oneof(fc.record({ among, amount }), fc.record({ byMachine })),
              belts: fc.boolean(),
              byHandPerMin: fc.option(rational),
              while: fc.constantFrom("stopped", "running"),
            })
            .filter((one) => one.while === "stopped" || (one.byHandPerMin !== null && !one.belts)),
        ),
        hold: fc.option(
          fc
            .record({
              until: fc.oneof(fc.constantFrom("own-full", "all-full"), time),
              release: fc.constantFrom("together", "head-first", "tail-first"),
              everyMin: fc.oneof(fc.constant(whole(0)), rational),
            })
            .filter(({ release, everyMin }) => release !== "together" || everyMin.n === 0n),
        ),
        stagger: fc.option(fc.record({ first: fc.constantFrom("head", "tail"), everyMin: rational })),
        boost: fc.option(fc.record({ factor: above, forMin: rational })),
        lowLevel: fc.option(fc.record({ level: fc.integer({ min: 1, max: 100 }), among, forMin: fc.option(rational) })),
        metered: fc.option(fc.record({ factor: above })),
        farEndFirst: fc.option(fc.record({ until: fc.oneof(fc.constant("tail-full" as const), time) })),
        secondFeed: fc.option(
          fc.record({ share: rational.map((value) => value.div(1000n)), at: fc.option(machine), forMin: rational }),
        ),
      })
      .filter(({ id, ...parts }) => Object.values(parts).some((part) => part !== null))
      .filter((one) => statedParts(one).filter(saysStart).length < 2);
    const scenario = read(EXAMPLE);
    fc.assert(
      fc.property(any, (one) => {
        const again = read(writeScenario({ ...scenario, tactics: [one] }));
        expect(plain(again.tactics)).toEqual(plain([one]));
      }),
      { numRuns: 300 },
    );
  });
});
