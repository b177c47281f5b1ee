/** The floors and belts of three examples, worked by hand from their footprints: what stands where, then each belt's way. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { approximate, exact, rational, sum, ZERO } from "../../src/quantity/rational.ts";
import { candidatesFor, givenFor } from "../../src/study/layouts/candidates.ts";
import { lineToLayOut } from "../../src/study/layouts/line.ts";
import { scenarioOf } from "./layouts-plants.ts";

function drawnUp(example: string, layout: string) {
  const scenario = scenarioOf(readFileSync(new URL(`../../scenarios/${example}.yaml`, import.meta.url), "utf8"));
  const chosen = lineToLayOut(scenario);
  if (!chosen.ok) throw new Error(chosen.why);
  const drawn = candidatesFor(givenFor(scenario, chosen.line, 3)).find(({ id }) => id === layout)?.drawn;
  if (!drawn) throw new Error(`${layout} is not drawn up`);
  const { floor, elements } = drawn;
  const belts = elements.connections.map(
    ({ id, belt }) => [id.replace("main.", ""), belt?.metres?.lengthM ?? ZERO] as const,
  );
  return {
    floor: `${approximate(floor.lengthM)} x ${approximate(floor.widthM)} = ${approximate(floor.m2)}`,
    belts: Object.fromEntries(belts.map(([id, metres]) => [id, approximate(metres)])),
    total: exact(sum(belts.map(([, metres]) => metres))),
    machines: floor.places.flatMap(({ id, kind, row }) => (kind === "machine" ? [`${id} ${row}`] : [])),
  };
}

const metres = (total: number): string => exact(rational(total.toFixed(6)));

test("four equal: fillers 2.5 m by 1.5 m in rows of 1.5 + 1, dividers of 1 m, gaps of 0.8; belts of 3 m, branches of 1.5", () => {
  const chain = drawnUp("four-equal", "chain");
  // One column of dividers and one of fillers: 0.8 + 1 + 0.8 + 2.5 by four rows.
  expect(chain.floor).toBe("5.1 x 10 = 51");
  expect(chain.belts).toEqual({
    "through-1": 3, // from the corner 0.8 + 0.75
    "through-2": 3, // a row less a divider, 1.5
    "through-3": 3,
    "through-4": 3.3, // the gap and a row
    "branch-1": 1.5, // the gap
    "branch-2": 1.5,
    "branch-3": 1.5,
  });
  expect(chain.total).toBe(metres(3 * 3 + 3.3 + 3 * 1.5));
  const tree = drawnUp("four-equal", "tree");
  // A second column of dividers: 1.8 more.
  expect(tree.floor).toBe("6.9 x 10 = 69");
  expect(tree.belts).toEqual({
    "through-1": 3,
    "through-2": 3, // beside the first, 0.8
    "through-3": 4, // two rows below it, less a divider: 2 × 2.5 − 1
    "branch-1": 1.5, // beside the second divider
    "branch-2": 3.3, // a row further
    "branch-3": 2.6, // past the second column: 0.8 + 1 + 0.8
    "branch-4": 5.1, // and a row
  });
  expect(tree.total).toBe(metres(3 + 3 + 4 + 1.5 + 3.3 + 2.6 + 5.1));
  expect(tree.machines).toEqual(["filler-1 0", "filler-2 1", "filler-3 2", "filler-4 3"]);
});

test("five unequal: presses 3.2 m by 2.4 m in rows of 2.4 + 1.2, gaps of 0.7; belts of 4 m, branches of 2", () => {
  const chain = drawnUp("five-unequal", "chain");
  expect(chain.floor).toBe("5.6 x 18 = 100.8");
  expect(chain.total).toBe(metres(4 * 4 + (0.7 + 3.6) + 4 * 2));
  const tree = drawnUp("five-unequal", "tree");
  // Two columns of dividers, one of merges: 3 (0.7 + 1) + 0.7 + 3.2.
  expect(tree.floor).toBe("9 x 18 = 162");
  expect(tree.belts).toEqual({
    "through-1": 4,
    "through-2": 4, // beside
    "branch-1": 2.4, // past the merges: 0.7 + 1 + 0.7
    "share-3-1": 4.3, // the gap and a row, to the merge before the plate press
    "share-3-2": 4.3,
    "through-3": 7.9, // the gap and two rows
    "branch-2": 2.4,
    "share-4-1": 4.3,
    "through-4": 13.4, // four rows below the first divider, less its own metre
    "share-4-2": 6, // up a row and past a column
    "share-5-1": 2, // the gap
    "share-5-2": 2,
    "branch-3": 2,
    "branch-4": 2,
    "branch-5": 2.4, // its merge stands a column before
  });
  expect(tree.total).toBe(metres(4 + 4 + 2.4 + 2 * 4.3 + 7.9 + 2.4 + 4.3 + 13.4 + 6 + 2 * 2 + 2 * 2 + 2.4));
  expect(tree.machines).toEqual(["saucer-press 0", "plate-press 1", "bowl-press 2", "tile-press 3", "mug-press 4"]);
});

test("thirty equal: testers 1.8 m by 1.2 m in rows of 1.2 + 1, gaps of 0.8; belts of 2 m, branches of 1", () => {
  const chain = drawnUp("thirty-equal", "chain");
  expect(chain.floor).toBe("4.4 x 66 = 290.4");
  // 29 stretches of 2 m (rows are 2.2 m less a divider apart), the last one the gap and a row; 29 branches.
  expect(chain.total).toBe(metres(29 * 2 + (0.8 + 2.2) + 29 * 1));
  const loop = drawnUp("thirty-equal", "loop");
  // The head's column; five of dividers, the first with the return's width before it; the testers'. The return has a row of 0.8 + 1.
  expect(loop.floor).toBe(`${approximate(rational("14.2"))} x 67.8 = 962.76`);
  expect(approximate(rational("1.8").add(rational("2.6")).add(rational("7.2")).add(rational("2.6")))).toBe(14.2);
  // 32 parts by dividers of two, two of them returned: head and first divider, then of the other 29 dividers 15 beside the one
  // before at the stated 2 m, and 14 two, four, eight or sixteen rows below it.
  const beside = 2 + 15 * 2;
  const below = 7 * (2 * 2.2 - 1) + 4 * (4 * 2.2 - 1) + 2 * (8 * 2.2 - 1) + (16 * 2.2 - 1);
  // Fifteen dividers lead to two testers each, past none, one, two or three columns of 1.8: the second a row further.
  const pair = (columns: number): number => Math.max(1, 0.8 + 1.8 * columns) + (0.8 + 1.8 * columns + 2.2);
  const branches = 1 * pair(0) + 4 * pair(1) + 6 * pair(2) + 4 * pair(3);
  // From the last but one divider, in row 28: half a gap, down to the return's row, back, up beside the first divider, to the
  // middle of the head's aisle, and up to the head.
  const back = 0.4 + (30 * 2.2 + 0.4 - (28 * 2.2 + 0.6)) + 2.2 + (30 * 2.2 + 0.4 - 1.7) + 1.3 + 0.6;
  expect([loop.belts["through-17"], loop.belts.return]).toEqual([34.2, 73.4]);
  expect(back).toBeCloseTo(73.4, 9);
  expect(loop.total).toBe(metres(beside + below + branches + back));
  expect(loop.machines).toEqual(Array.from({ length: 30 }, (_, i) => `tester-${i + 1} ${i}`));
});
