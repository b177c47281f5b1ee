/** The rule of mixes.ts against simulation: within the margin all is taken, beyond it the feed is held back. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Result } from "../../src/analysis/result.ts";
import { type Rational, rational, whole } from "../../src/quantity/rational.ts";
import { resultOf } from "./plant-files.ts";

interface Drawn {
  /** Machines and their cycles in seconds, by kind. */
  readonly red: readonly number[];
  readonly blue: readonly number[];
  readonly perMin: number;
}

/** As parts of 40; the line must get less than all can take. */
const PARTS = 40;

function mixed(redParts: number, line: string, { red, blue, perMin }: Drawn): Result {
  const group = (kind: string, cycles: readonly number[]): string =>
    cycles
      .map(
        (cycle, i) =>
          `  ${kind}-m${i}: { cycle: ${cycle} s, takes: { ${kind}: 1 }, makes: { of-${kind}: 1 }, infeed: 12 }`,
      )
      .join("\n");
  const counts = `{ red: ${redParts}, blue: ${PARTS - redParts} }`;
  return resultOf(`
horizon: 8 h
feeds: { mix: { items: ${counts}, rate: ${perMin}/min } }
machines:
${group("red", red)}
${group("blue", blue)}
lines:
${line}
`);
}

function names(kind: string, cycles: readonly number[]): string {
  return cycles.map((_, i) => `${kind}-m${i}`).join(", ");
}

/** A divider that sorts, and a chain for each kind. */
function sorted({ red, blue }: Drawn): string {
  const side = (kind: string, cycles: readonly number[]): string[] =>
    cycles.flatMap((_, i) => {
      const from = i === 0 ? "sort" : `${kind}-d${i}`;
      const only = i === 0 ? `only: [${kind}], ` : "";
      const isLast = i === cycles.length - 1;
      const to = isLast ? `${kind}-m${i}` : `${kind}-d${i + 1}`;
      const belt = `      ${kind}-on-${i}: { from: ${from}, to: ${to}, ${only}rate: 300/min, capacity: 8 }`;
      return isLast
        ? [belt]
        : [belt, `      ${kind}-in-${i}: { from: ${kind}-d${i + 1}, to: ${kind}-m${i}, rate: 300/min, capacity: 4 }`];
    });
  const dividers = (kind: string, cycles: readonly number[]): string[] =>
    cycles.slice(1).map((_, i) => `${kind}-d${i + 1}: even`);
  return `  main:
    layout: custom
    dividers: { ${["sort: even", ...dividers("red", red), ...dividers("blue", blue)].join(", ")} }
    belts:
      in: { from: mix, to: sort, rate: 300/min, capacity: 8 }
${[...side("red", red), ...side("blue", blue)].join("\n")}`;
}

/** One chain; each machine's branch comes first, and red, which the last ones take, stands at the far end. */
function branchFirst({ red, blue }: Drawn): string {
  return `  main: { layout: chain, from: [mix], to: [${names("blue", blue)}, ${names("red", red)}], dividers: branch-first, belt: { rate: 300/min, capacity: 8 } }`;
}

function returning({ red, blue }: Drawn): string {
  return `  main: { layout: chain, from: [mix], to: [${names("blue", blue)}, ${names("red", red)}], end: return, belt: { rate: 240/min, capacity: 12 } }`;
}

function takes(cycles: readonly number[]): Rational {
  return cycles.reduce((sum, cycle) => sum.add(whole(60).div(whole(cycle))), whole(0));
}

function isAllTaken({ feeds, jams }: Result): boolean {
  return feeds[0]?.settled_per_min === feeds[0]?.rate_per_min && jams?.length === 0;
}

const cycles = fc.array(fc.constantFrom(3, 4, 5, 6), { minLength: 1, maxLength: 3 });
const drawn: fc.Arbitrary<Drawn> = fc.record({
  red: cycles,
  blue: cycles,
  perMin: fc.constantFrom(20, 24, 30, 36, 40),
});

describe.each([
  ["a divider that sorts", sorted],
  ["a branch-first chain", branchFirst],
  ["a chain with a return", returning],
] as const)("%s", (_, lineOf) => {
  test("all is taken with the mix just within the margin, and not with the next one beyond", () => {
    let tried = 0;
    fc.assert(
      fc.property(drawn, (given) => {
        const all = whole(given.perMin);
        // In the middle between the limits of both kinds.
        const fits = Array.from({ length: PARTS - 1 }, (_, i) => i + 1).filter((parts) => {
          const share = rational(`${parts}/${PARTS}`);
          return (
            all.mul(share).compare(takes(given.red).mul("19/20")) < 0 &&
            all.mul(whole(1).sub(share)).compare(takes(given.blue).mul("19/20")) < 0
          );
        });
        const middle = fits[Math.floor(fits.length / 2)];
        fc.pre(middle !== undefined);
        if (middle === undefined) return;
        const base = mixed(middle, lineOf(given), given);
        const [mix] = base.mixes;
        expect(isAllTaken(base)).toBe(true);
        expect(mix).toMatchObject({ line: "main", jams: false, rule: "shares" });
        if (mix?.margin == null) {
          expect(all.compare(takes(given.red)) <= 0 && all.compare(takes(given.blue)) <= 0).toBe(true);
          return;
        }
        const ownParts = mix.nearest === "red" ? middle : PARTS - middle;
        const most = whole(ownParts).mul(rational(mix.margin).add(whole(1)));
        const within = Math.ceil(most.valueOf()) - 1;
        const beyond = Math.floor(most.valueOf()) + 1;
        const withParts = (parts: number): Result =>
          mixed(mix.nearest === "red" ? parts : PARTS - parts, lineOf(given), given);
        if (within < PARTS) expect(isAllTaken(withParts(within))).toBe(true);
        if (beyond < PARTS) {
          tried++;
          const off = withParts(beyond);
          expect(isAllTaken(off)).toBe(false);
          expect(off.mixes[0]).toMatchObject({ nearest: mix.nearest, margin: "0" });
        }
      }),
      { numRuns: 8 },
    );
    expect(tried).toBeGreaterThan(2);
  });
});

test("machines that take kinds together: only the exact proportion goes on for ever", () => {
  const trays = (red: number, blue: number): Result =>
    resultOf(`
horizon: 12 h
feeds: { mix: { items: { red: ${red}, blue: ${blue} }, rate: 45/min } }
machines: { tray: { count: 3, cycle: 3 s, takes: { red: 2, blue: 1 }, makes: { tray: 1 }, infeed: { red: 24, blue: 12 } } }
lines: { main: { layout: chain, from: [mix], to: [tray], belt: { rate: 120/min, capacity: 10 } } }
`);
  const exact = trays(2, 1);
  expect(isAllTaken(exact)).toBe(true);
  expect(exact.mixes).toMatchObject([{ jams: false, margin: "0", rule: "proportion" }]);
  for (const [red, blue] of [
    [21, 10],
    [19, 10],
    [3, 1],
  ] as const) {
    const off = trays(red, blue);
    // Others may stand too: a machine that got less than its part of the one is full of the other.
    expect(off.output.settled_per_min).toBe("0");
    expect(off.jams?.map(({ item }) => item)).toContain(red > 2 * blue ? "red" : "blue");
    expect(off.mixes).toMatchObject([{ jams: true, margin: "0" }]);
  }
});

test("an even chain whose last machine takes but one kind promises nothing", () => {
  const given = { red: [3], blue: [3], perMin: 20 };
  const line = "  main: { layout: chain, from: [mix], to: [blue-m0, red-m0], belt: { rate: 300/min, capacity: 8 } }";
  const result = mixed(16, line, given);
  expect(result.mixes).toMatchObject([{ nearest: "blue", margin: "0", rule: "dead-end" }]);
  // With more blue than red two follow one another now and then, and the second one is sent on in its turn.
  expect(result.jams).toMatchObject([{ item: "blue", belt: "main.through-2" }]);
});

test("a kind that an outlet takes never holds up the line, at any rate", () => {
  const given = { red: [6], blue: [3], perMin: 40 };
  const line = `  main: { layout: chain, from: [mix], to: [blue-m0, red-m0], dividers: branch-first, end: out, belt: { rate: 300/min, capacity: 8 } }
outlets: { out: { item: red } }`;
  const result = mixed(30, line, given);
  expect(isAllTaken(result)).toBe(true);
  const kinds = [
    { item: "red", takeable_per_min: null },
    { item: "blue", offered_per_min: "10", takeable_per_min: "20" },
  ];
  // Of blue, a quarter, there may be twice as much.
  expect(result.mixes).toMatchObject([{ jams: false, nearest: "blue", margin: "1", kinds }]);
});

describe("an assembly of two kinds, one of which an outlet takes", () => {
  const bags = (red: number, yellow: number, chain: string): Result =>
    resultOf(`
horizon: 24 h
feeds: { sweets: { items: { red: ${red}, yellow: ${yellow} }, rate: 60/min } }
machines: { bagger: { count: 3, cycle: 3 s, takes: { red: 2, yellow: 1 }, makes: { bag: 1 }, infeed: 12 } }
lines:
  main: { layout: chain, from: sweets, to: bagger, belt: { rate: 120/min, capacity: 10 }, end: surplus, ${chain} }
outlets: { surplus: { item: red } }
`);

  test.each(["branch-first", "even"])("%s: too much of that one leaves; the other's share may rise", (dividers) => {
    const chain = `dividers: ${dividers}, branch: none`;
    const base = bags(30, 10, chain);
    expect(isAllTaken(base)).toBe(true);
    // A quarter is yellow; a third is as much as two red each go with.
    expect(base.mixes).toMatchObject([{ jams: false, nearest: "yellow", margin: "1/3", rule: "shares" }]);
    expect(isAllTaken(bags(27, 13, chain))).toBe(true);
    const off = bags(26, 14, chain);
    expect([isAllTaken(off), off.jams?.[0]?.item]).toEqual([false, "yellow"]);
  });

  test("an even divider to the outlet lets some of it leave that is wanted: nothing is promised", () => {
    const result = resultOf(`
feeds: { sweets: { items: { red: 3, yellow: 1 }, rate: 20/min } }
machines: { bagger: { cycle: 3 s, takes: { red: 2, yellow: 1 }, makes: { bag: 1 }, infeed: 12 } }
lines:
  main:
    layout: custom
    dividers: { fork: even }
    belts:
      in: { from: sweets, to: fork, rate: 120/min, capacity: 10 }
      bag: { from: fork, to: bagger, belt: none }
      off: { from: fork, to: surplus, only: [red], rate: 120/min, capacity: 10 }
outlets: { surplus: { item: red } }
`);
    expect(result.mixes).toMatchObject([{ nearest: "yellow", margin: "0", rule: "proportion" }]);
  });

  test("on a branch belt that both share it has no way out, and jams", () => {
    const result = bags(30, 10, "dividers: branch-first, branch: { rate: 120/min, capacity: 10 }");
    expect(result.mixes).toMatchObject([{ jams: true, margin: "0" }]);
    expect(result.jams).toMatchObject([{ item: "red", belt: "main.branch-1", at: "bagger-1", is_full: true }]);
  });
});
