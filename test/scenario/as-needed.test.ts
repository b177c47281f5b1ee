/** Feeds that give what is needed: exact sums, worked out by hand here, and what is refused because no sum would be right. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { exact, type Rational, ratio, sum, whole } from "../../src/quantity/rational.ts";
import { readScenario } from "../../src/scenario/read.ts";
import type { Feed } from "../../src/scenario/scenario.ts";
import { writeScenario } from "../../src/scenario/write.ts";
import { plain } from "./example.ts";

const BELT = "belt: { length: 2 m, speed: 23 m/min, pitch: 60 mm }";

/** Two fillers of 20/min, a slow one of 15/min on a tray of three; the packers make and take what stands between. */
function plant(feeds: string, lines = `main: { layout: chain, from: a, to: [filler, slow], ${BELT} }`): string {
  return `feeds: { ${feeds}, idle: { item: lid, rate: 5/min } }
machines:
  filler: { count: 2, cycle: 3 s, takes: { cup: 1 }, makes: { pot: 1 }, infeed: 10 }
  slow: { cycle: 6 s, takes: { cup: 3 }, makes: { tray: 1 }, infeed: 10, speed: 50 % }
  packer: { count: 2, cycle: 4.5 s, takes: { pot: 2, lid: 1 }, makes: { box: 1 }, infeed: 10 }
lines:
  ${lines}
`;
}

function feedsOf(text: string): readonly Feed[] {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  return outcome.scenario.feeds;
}

function rates(text: string): Record<string, string> {
  return Object.fromEntries(feedsOf(text).map(({ id, profile }) => [id, exact(profile[0]?.ratePerMin ?? whole(0))]));
}

function told(text: string): [string, string][] {
  const outcome = readScenario(text);
  const findings = outcome.ok ? outcome.warnings : outcome.findings;
  return findings.map(({ code, path }) => [code, path.join(".")]);
}

const codes = (text: string) => told(text).filter(([code]) => code.includes("need") || code === "enough-given");

describe("what is needed", () => {
  test("all that machines take at full speed, each at its own: 2 × 20 + 15", () => {
    expect(rates(plant("a: { item: cup, rate: as needed }")).a).toBe("55");
  });

  test("less what is stated, vehicles on average, a mix by its share, profiles by their last step; a share of the rest", () => {
    const lines = `main: { layout: chain, from: [a, b, c, d, e], to: [filler, slow], ${BELT} }`;
    const others = `b: { item: cup, batch: { every: 20 min, items: 140, rate: 30/min } }, c: { items: { cup: 1, lid: 2 }, rate: 9/min },
      d: { item: cup, profile: [{ from: 0 min, rate: 50/min }, { from: 5 min, rate: 11/min }] }, e: { item: cup, rate: 1/3 /min }`;
    // 55 − 7 − 3 − 11 − 1/3 = 101/3; 110 % of it is 1111/30.
    expect(rates(plant(`a: { item: cup, rate: as needed }, ${others}`, lines)).a).toBe("101/3");
    expect(rates(plant(`a: { item: cup, rate: 110 % of need }, ${others}`, lines)).a).toBe("1111/30");
  });

  test("in equal parts where several are to give it, each its own share of its part", () => {
    const feeds = "a: { item: cup, rate: as needed }, b: { item: cup, rate: 90 % of need }";
    const lines = `main: { layout: chain, from: [a, b], to: [filler, slow], ${BELT} }`;
    expect(rates(plant(feeds, lines))).toMatchObject({ a: "55/2", b: "99/4" });
  });

  test("of a part for a second stage, and of what the first stage makes less than the second takes", () => {
    const lines = `main: { layout: chain, from: a, to: [filler, slow], ${BELT} }
  packing: { layout: chain, from: [filler, b, c], to: packer, ${BELT} }`;
    const feeds =
      "a: { item: cup, rate: as needed }, b: { item: lid, rate: as needed }, c: { item: pot, rate: as needed }";
    // Packers: 80/3 lids and 160/3 pots a minute, of which 40 are made.
    expect(rates(plant(feeds, lines))).toMatchObject({ a: "55", b: "80/3", c: "40/3" });
  });

  test("only of machines to which it leads, however a network is written down", () => {
    const lines = `main:
    layout: custom
    dividers: { split: even }
    belts:
      in: { from: a, to: split, belt: none }
      one: { from: split, to: filler-1, belt: none }
      two: { from: split, to: slow, belt: none }
      apart: { from: b, to: filler-2, belt: none }`;
    const feeds = "a: { item: cup, rate: as needed }, b: { item: cup, rate: as needed }";
    expect(rates(plant(feeds, lines))).toMatchObject({ a: "35", b: "20" });
    // Two lines of different kinds that meet at the same machines don't mix their needs up.
    const meeting = `pots: { layout: chain, from: a, to: packer-1, ${BELT} }
  lids: { layout: chain, from: b, to: packer, ${BELT} }
  more: { layout: chain, from: c, to: packer-2, ${BELT} }`;
    const three =
      "a: { item: pot, rate: as needed }, b: { item: lid, rate: as needed }, c: { item: pot, rate: 5/min }, d: { item: cup, rate: 9/min }";
    expect(rates(plant(three, meeting))).toMatchObject({ a: "80/3", b: "80/3", c: "5" });
  });

  test("less only what others can place: one that leads to a single machine gives that at most", () => {
    const lines = `main: { layout: chain, from: a, to: [filler, slow], ${BELT} }
  aside: { layout: chain, from: b, to: slow, ${BELT} }`;
    expect(rates(plant("a: { item: cup, rate: as needed }, b: { item: cup, rate: 9/min }", lines)).a).toBe("46");
    expect(rates(plant("a: { item: cup, rate: as needed }, b: { item: cup, rate: 90/min }", lines)).a).toBe("40");
  });
});

describe("refused, with what to write instead", () => {
  test.each([
    ["need-of-several", "a: { items: { cup: 1, lid: 1 }, rate: as needed }", undefined],
    ["nothing-needed", "a: { item: box, rate: as needed }", undefined],
    [
      "enough-given",
      "a: { item: cup, rate: as needed }, b: { item: cup, rate: 55/min }",
      `main: { layout: chain, from: [a, b], to: [filler, slow], ${BELT} }`,
    ],
    ["need-steady", "a: { item: cup, batch: { every: 20 min, items: 90, rate: as needed } }", undefined],
    ["need-steady", "a: { item: cup, profile: [{ from: 0 min, rate: 110 % of need }] }", undefined],
    // Only one of the two leads to all three machines: whose is what?
    [
      "need-apart",
      "a: { item: cup, rate: as needed }, b: { item: cup, rate: as needed }",
      `main: { layout: chain, from: a, to: [filler, slow], ${BELT} }\n  aside: { layout: chain, from: b, to: slow, ${BELT} }`,
    ],
    // The fillers are fed half of what they need, so that they make less than they could.
    [
      "need-made",
      "a: { item: cup, rate: 20/min }, c: { item: pot, rate: as needed }",
      `main: { layout: chain, from: a, to: filler, ${BELT} }\n  packing: { layout: chain, from: [filler, c], to: packer, ${BELT} }`,
    ],
  ])("%s: %s", (code, feeds, lines) => {
    const text = plant(feeds, lines);
    expect(codes(text).map(([found]) => found)).toContain(code);
    expect(readScenario(text).ok).toBe(false);
  });

  test.each(["as neded", "110 %", "110 % of needs", "50 of need", "-1 % of need", "0 % of need", "200000 % of need"])(
    "no rate, at its place: %s",
    (rate) => {
      const text = plant(`a: { item: cup, rate: ${rate} }`);
      expect(told(text).map(([, path]) => path)).toContain("feeds.a.rate");
      expect(readScenario(text).ok).toBe(false);
    },
  );
});

test("a feed within a thousandth of the need, but not just it, is told of it", () => {
  const noted = (rate: string) => codes(plant(`a: { item: cup, rate: ${rate} }`));
  expect(noted("55.05/min")).toEqual([["near-need", "feeds.a.rate"]]);
  expect(noted("54.95/min")).toEqual([["near-need", "feeds.a.rate"]]);
  for (const rate of ["55/min", "55.055/min", "as needed", "100.01 % of need"]) expect(noted(rate)).toEqual([]);
});

test("a sum of ordinary needs is never refused for its digits, and is exact", () => {
  const cycles = fc.array(fc.integer({ min: 11, max: 900 }), { minLength: 1, maxLength: 12 });
  fc.assert(
    fc.property(cycles, fc.integer({ min: 1, max: 30 }), (tenths, share) => {
      const machines = tenths.map(
        (tenth, i) => `  m${i}: { cycle: ${tenth / 10} s, takes: { x: 1 }, makes: { y: 1 }, infeed: 9 }`,
      );
      const at = (rate: string): string =>
        `feeds: { a: { item: x, rate: ${rate} } }\nmachines:\n${machines.join("\n")}\nlines:\n  l: { layout: chain, from: a, to: [${tenths.map((_, i) => `m${i}`).join(", ")}], belt: { rate: 10000/min, capacity: 300 } }\n`;
      const need: Rational = sum(tenths.map((tenth) => ratio(600n, BigInt(tenth))))
        .mul(whole(share))
        .div(whole(10));
      expect(rates(at(`${share * 10} % of need`)).a).toBe(exact(need));
      // Written out as a fraction, too, as long as it fits on a line.
      if (exact(need).length <= 38) expect(rates(at(`${exact(need)} /min`)).a).toBe(exact(need));
    }),
  );
  expect(rates(plant("a: { item: cup, rate: 4365337435/41397741 /min }")).a).toBe("4365337435/41397741");
});

test("written out again it says the same", () => {
  for (const rate of ["as needed", "110 % of need", "1/3 % of need"]) {
    const [feed, ...others] = feedsOf(plant(`a: { item: cup, rate: ${rate} }`));
    const outcome = readScenario(plant(`a: { item: cup, rate: ${rate} }`));
    if (!outcome.ok) throw new Error("is read above");
    const text = writeScenario(outcome.scenario);
    expect(text).toContain(`a: { item: cup, rate: ${rate} }\n`);
    expect(plain(feedsOf(text))).toEqual(plain([feed, ...others]));
  }
});
