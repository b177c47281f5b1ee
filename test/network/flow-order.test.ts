import { expect, test } from "vitest";
import { expand } from "../../src/network/expand.ts";
import { stagesOf } from "../../src/network/flow-order.ts";
import { readScenario } from "../../src/scenario/read.ts";

const MACHINE = "cycle: 2 s, infeed: 9";

/** Written backwards: lids need a coat, jars and coated lids meet at the capper, pallets of them at the end. */
const PLANT = `
feeds: { blanks: { item: blank, rate: 30/min } }
machines:
  palletiser: { takes: { full: 6 }, makes: { pallet: 1 }, ${MACHINE} }
  capper: { count: 2, takes: { jar: 1, coated: 1 }, makes: { full: 1 }, ${MACHINE} }
  coater: { takes: { lid: 1 }, makes: { coated: 1 }, ${MACHINE} }
  stamper: { count: 2, takes: { blank: 1 }, makes: { lid: 1 }, ${MACHINE} }
  moulder: { count: 2, takes: { blank: 1 }, makes: { jar: 1 }, ${MACHINE} }
lines:
  last: { layout: chain, from: capper, to: palletiser, belt: none }
  jars: { layout: chain, from: moulder, to: [capper-2, capper-1], belt: BELT, branch: none }
  coats: { layout: chain, from: coater, to: capper, belt: none }
  lids: { layout: chain, from: stamper, to: coater, belt: BELT }
  first: { layout: chain, from: blanks, to: [moulder-2, stamper, moulder-1], belt: none }
`.replaceAll("BELT", "{ rate: 60/min, capacity: 9, transit: 2 s }");

function network() {
  const read = readScenario(PLANT);
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  return expand(read.scenario);
}

test("machines stand stage by stage, and along each line as the belt passes them", () => {
  expect(network().machines.map(({ id }) => id)).toEqual([
    "moulder-2",
    "stamper-1",
    "stamper-2",
    "moulder-1",
    "coater",
    "capper-2",
    "capper-1",
    "palletiser",
  ]);
});

test("a stage is one later than the latest of those that supply it", () => {
  expect(Object.fromEntries(stagesOf(network()))).toEqual({
    ...{ "moulder-1": 1, "moulder-2": 1, "stamper-1": 1, "stamper-2": 1 },
    ...{ coater: 2, "capper-1": 3, "capper-2": 3, palletiser: 4 },
  });
});

test("a return belt does not hide whose products are on it", () => {
  const returning = `
feeds: { blanks: { item: blank, rate: 30/min } }
machines:
  packer: { count: 3, takes: { lid: 1 }, makes: { pack: 1 }, ${MACHINE} }
  stamper: { count: 2, takes: { blank: 1 }, makes: { lid: 1 }, ${MACHINE} }
lines:
  lids: { layout: chain, from: stamper, to: packer, end: return, belt: BELT }
  first: { layout: chain, from: blanks, to: stamper, belt: BELT }
`.replaceAll("BELT", "{ rate: 60/min, capacity: 9 }");
  const read = readScenario(returning);
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  const { machines } = expand(read.scenario);
  expect(machines.map(({ id }) => id)).toEqual(["stamper-1", "stamper-2", "packer-1", "packer-2", "packer-3"]);
});

test("machines that supply one another in a circle have a stage all the same", () => {
  const circle = `
feeds: { in: { item: a, rate: 6/min } }
machines:
  one: { takes: { a: 1, c: 1 }, makes: { b: 1 }, ${MACHINE} }
  two: { takes: { b: 1 }, makes: { c: 1 }, ${MACHINE} }
lines:
  first: { layout: chain, from: in, to: one, belt: none }
  there: { layout: chain, from: one, to: two, belt: none }
  back: { layout: chain, from: two, to: one, belt: none }
`;
  const read = readScenario(circle);
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  expect([...stagesOf(expand(read.scenario)).values()].every((stage) => stage >= 1)).toBe(true);
});
