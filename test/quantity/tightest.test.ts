/** Which belt is told to be the tightest: figures of a line by hand. */
import { expect, test } from "vitest";
import { tightestBelts } from "../../src/quantity/tightest.ts";

const belt = (
  id: string,
  headroom: string | null,
  more: { measured_per_min?: number; at_most_per_min?: string } = {},
) => {
  return { id, rate_per_min: "60", headroom_per_min: headroom, ...more };
};
const named = (...args: Parameters<typeof tightestBelts>) =>
  tightestBelts(...args).map(({ belt: { id }, headroomPerMin }) => [id, headroomPerMin]);

test("all that have the least headroom, in the file's order", () => {
  expect(named([belt("a", "30"), belt("b", "45/4"), belt("c", "45/4")], [])).toEqual([
    ["b", 11.25],
    ["c", 11.25],
  ]);
});

test("a branch that cuts its rate out of the flow is to be full, and says nothing of the line", () => {
  expect(named([belt("through", "12"), belt("cut", "0")], [{ belt: "cut" }])).toEqual([["through", 12]]);
  expect(named([belt("cut", "0")], [{ belt: "cut" }])).toEqual([]);
});

test("where the rate is measured the room counts, too, and nothing is left below none", () => {
  const short = belt("short", null, { measured_per_min: 36, at_most_per_min: "40" });
  expect(named([belt("long", null, { measured_per_min: 50 }), short], [])).toEqual([["short", 4]]);
  expect(named([belt("full", null, { measured_per_min: 60.2 })], [])).toEqual([["full", 0]]);
});
