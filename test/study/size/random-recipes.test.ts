/**
 * Random recipes against HiGHS (Q. Huangfu, J. A. J. Hall, "Parallelizing the dual revised simplex method", Mathematical
 * Programming Computation 10, 2018; npm's `highs`): as many machines as the integer program has at least, and each written
 * file reaches what is wanted.
 */
import { createRequire } from "node:module";
import fc from "fast-check";
import type { Highs } from "highs";
import { expect, test } from "vitest";
import { demandOf } from "../../../src/study/size/demand.ts";
import { draftOf, sizeOf } from "./sizing.ts";

const load: () => Promise<Highs> = createRequire(import.meta.url)("highs");
const highs = await load();

interface Kind {
  readonly seconds: number;
  /** Items of earlier stages, and how many of each; "raw" is fed. */
  readonly takes: readonly (readonly [item: string, count: number])[];
  readonly makes: readonly [item: string, count: number];
}

/** A few stages; each makes a kind of its own, some of it by two kinds of machine. */
const recipes: fc.Arbitrary<{ readonly kinds: readonly Kind[]; readonly perMin: number }> = fc
  .integer({ min: 1, max: 4 })
  .chain((stages) =>
    fc.record({
      perMin: fc.integer({ min: 5, max: 90 }),
      kinds: fc
        .tuple(
          ...Array.from({ length: stages }, (_, stage) =>
            fc.array(
              fc.record({
                seconds: fc.constantFrom(0.5, 0.8, 1, 1.2, 1.5, 2, 3),
                // The one before, so that all is used, and perhaps an earlier one, so that some is used twice.
                takes: fc
                  .tuple(fc.integer({ min: 1, max: 3 }), fc.option(fc.integer({ min: 0, max: stage })))
                  .map(([count, other]) => {
                    const own = stage === 0 ? "raw" : `part-${stage - 1}`;
                    const also = other === null || other >= stage - 1 ? [] : [[`part-${other}`, 1] as const];
                    return [[own, count] as const, ...also];
                  }),
                makes: fc.integer({ min: 1, max: 3 }).map((count) => [`part-${stage}`, count] as const),
              }),
              { minLength: 1, maxLength: 2 },
            ),
          ),
        )
        .map((all) => all.flat()),
    }),
  );

function fileOf(kinds: readonly Kind[]): string {
  const lines = kinds.map(({ seconds, takes, makes }, k) => {
    const map = (counts: readonly (readonly [string, number])[]): string =>
      `{ ${counts.map(([item, count]) => `${item}: ${count}`).join(", ")} }`;
    return `  kind-${k}: { cycle: ${seconds} s, takes: ${map(takes)}, makes: ${map([makes])} }`;
  });
  return `machines:\n${lines.join("\n")}\n`;
}

/** The least number of machines, by an integer program. */
function fewestBy(kinds: readonly Kind[], product: string, perMin: number): number {
  const parts = [...new Set(kinds.map(({ makes }) => makes[0]))];
  const balances = parts.map((part) => {
    const terms = kinds.flatMap(({ takes, makes }, k) => {
      const net = (makes[0] === part ? makes[1] : 0) - (takes.find(([item]) => item === part)?.[1] ?? 0);
      return net === 0 ? [] : [`${net < 0 ? "-" : "+"} ${Math.abs(net)} x${k}`];
    });
    return ` ${terms.join(" ")} ${part === product ? `>= ${perMin}` : "= 0"}`;
  });
  const capacities = kinds.map(({ seconds }, k) => ` x${k} - ${60 / seconds} n${k} <= 0`);
  const counts = kinds.map((_, k) => `n${k}`);
  const lines = [
    "Minimize",
    ` ${counts.join(" + ")}`,
    "Subject To",
    ...balances,
    ...capacities,
    "General",
    ` ${counts.join(" ")}`,
    "End",
  ];
  const solution = highs.solve(lines.join("\n"), { output_flag: false });
  expect(solution.Status).toBe("Optimal");
  return Math.round(solution.ObjectiveValue);
}

/** `FILLFRONT_CASES=4` is as wide as a night allows: running a plant of hundreds of machines takes most of it. */
const CASES = Number(process.env.FILLFRONT_CASES ?? 1);

test("as few machines as an integer program finds", () => {
  fc.assert(
    fc.property(recipes, ({ kinds, perMin }) => {
      const product = kinds.at(-1)?.makes[0] ?? "";
      const demand = demandOf(draftOf(fileOf(kinds), { [product]: `${perMin}/min` }));
      if ("why" in demand) throw new Error(demand.why);
      expect(demand.proved).toBe(true);
      expect(demand.counts.reduce((all, count) => all + count, 0)).toBe(fewestBy(kinds, product, perMin));
    }),
    { numRuns: 12 * CASES },
  );
});

test("the file that is written reaches what is wanted, with as many machines", () => {
  // Few enough for a run of seconds.
  const small = recipes.filter(({ kinds, perMin }) => kinds.length * perMin <= 120);
  fc.assert(
    fc.property(small, ({ kinds, perMin }) => {
      const product = kinds.at(-1)?.makes[0] ?? "";
      const size = sizeOf(fileOf(kinds), { [product]: `${perMin}/min` });
      expect(size.machines.reduce((all, { count }) => all + count, 0)).toBe(fewestBy(kinds, product, perMin));
      expect(size.run).toMatchObject({ reached: true, proved: true });
    }),
    { numRuns: 4 * CASES },
  );
});
