/**
 * Trees of chains and chains of trees: exact shares where the tree gives them, and just what each machine needs in the end,
 * by the flow solution, which is exact, and for some sizes by the run, which recurs.
 */
import { describe, expect, test } from "vitest";
import { solveFlow } from "../../src/analysis/flow/flow.ts";
import type { FlowMeans } from "../../src/analysis/flow/solution.ts";
import { chainFlows } from "../../src/network/chain-flows.ts";
import { plantOf } from "../../src/network/collect.ts";
import { assemble } from "../../src/network/expand.ts";
import { type MixtureElements, mixtureElements } from "../../src/network/mixture-elements.ts";
import { chainsOfTrees, type Mixture, treesOfChains } from "../../src/network/mixtures.ts";
import type { Network } from "../../src/network/network.ts";
import type { Ways } from "../../src/network/shares.ts";
import { exact, type Rational, ratio, sum, whole, ZERO } from "../../src/quantity/rational.ts";
import type { ChainLine } from "../../src/scenario/scenario.ts";
import { cases } from "../plants/cases.ts";
import { settle } from "../plants/settled.ts";
import { sharedPlant } from "./shared-lines.ts";
import { randomWeights } from "./weights.ts";

const WAYS = [2, 3] as const;

interface Drawn {
  readonly drawn: MixtureElements;
  readonly network: Network;
}

/** @param part of what the machines need that is fed */
function drawn(
  mixture: Mixture,
  needs: readonly Rational[],
  part: Rational,
  dividers: ChainLine["dividers"] = "even",
): Drawn {
  const scenario = sharedPlant({ layout: "loop", ways: 3, needs, feedPerMin: sum(needs).mul(part) });
  const plant = plantOf(scenario);
  const [line] = scenario.lines;
  if (line?.layout !== "loop") throw new Error("the plant has one loop");
  const needOf = new Map(needs.map((need, index) => [`m${index + 1}`, need]));
  const { ways: _, return: __, ...rest } = line;
  const mixed = mixtureElements(
    { ...rest, dividers },
    mixture,
    plant,
    sum(needs).mul(part),
    (id) => needOf.get(id) ?? ZERO,
  );
  return { drawn: mixed, network: assemble(scenario, [mixed]) };
}

function mixturesFor(needs: readonly Rational[], ways: Ways): Mixture[] {
  const names = needs.map((_, index) => `m${index + 1}`);
  return [...treesOfChains(names, needs, ways).values(), ...chainsOfTrees(names, needs, ways).values()];
}

/** Equal machines with 6/min each. */
function equal(count: number): Rational[] {
  return Array.from({ length: count }, () => whole(6));
}

/** In the long run. */
function meansOf(network: Network): FlowMeans {
  const solution = solveFlow(network);
  if (!solution.applies) throw new Error(solution.reason);
  return solution.settled();
}

function expectAllRun(mixture: Mixture, needs: readonly Rational[]): void {
  const { network } = drawn(mixture, needs, whole(1));
  const { machines, feeds } = meansOf(network);
  expect(needs.map((_, index) => exact(machines.get(`m${index + 1}`) ?? ZERO))).toEqual(needs.map(() => "1"));
  expect(exact(feeds.get("silo") ?? ZERO)).toBe(exact(sum(needs)));
}

describe.each(WAYS)("dividers of up to %i ways", (ways) => {
  test("fed what they need, up to 40 equal machines all get it", () => {
    let mixtures = 0;
    for (let count = 3; count <= 40; count++) {
      for (const mixture of mixturesFor(equal(count), ways)) {
        expectAllRun(mixture, equal(count));
        mixtures++;
      }
    }
    expect(mixtures).toBeGreaterThan(38);
  });

  test("unequal machines too", () => {
    let mixtures = 0;
    for (const weights of randomWeights(cases(40))) {
      for (const mixture of mixturesFor(weights.map(whole), ways)) {
        expectAllRun(mixture, weights.map(whole));
        mixtures++;
      }
    }
    expect(mixtures).toBeGreaterThan(4);
  });

  test("a tree of chains on a short feed gives each chain its exact share", () => {
    let trees = 0;
    const all = [
      ...Array.from({ length: 27 }, (_, i) => equal(i + 4)),
      ...randomWeights(cases(40)).map((one) => one.map(whole)),
    ];
    for (const needs of all) {
      for (const mixture of mixturesFor(needs, ways)) {
        if (mixture.kind !== "tree-of-chains") continue;
        trees++;
        const { machines: running } = meansOf(drawn(mixture, needs, ratio(5n, 6n)).network);
        for (const machines of mixture.chains) {
          const own = machines.map((id) => needs[Number(id.slice(1)) - 1] ?? ZERO);
          const taken = machines.map((id, place) => (own[place] ?? ZERO).mul(running.get(id) ?? ZERO));
          expect(exact(sum(taken))).toBe(exact(sum(own).mul(ratio(5n, 6n))));
        }
      }
    }
    expect(trees).toBeGreaterThan(20);
  });

  test("belts carry what was said beforehand", () => {
    let compared = 0;
    for (const needs of [equal(7), equal(12), [2, 1, 3, 2, 1, 3].map(whole), [1, 2, 1, 2, 4, 2].map(whole)]) {
      for (const mixture of mixturesFor(needs, ways)) {
        for (const dividers of ["even", "branch-first", "through-first"] as const) {
          for (const part of [whole(1), ratio(1n, 2n), ratio(4n, 5n)]) {
            const { drawn: mixed, network } = drawn(mixture, needs, part, dividers);
            // Where a machine is fed by two ways and held up, either may carry more.
            if (mixed.merges.length > 0) continue;
            compared++;
            const { connections } = meansOf(network);
            const passed = network.connections.map(({ id }) => [id, exact(connections.get(id) ?? ZERO)]);
            expect(passed).toEqual(network.connections.map(({ id }) => [id, exact(mixed.flows.get(id) ?? whole(-1))]));
          }
        }
      }
    }
    expect(compared).toBeGreaterThan(30);
  });
});

test("simulated until the whole state recurs, the same", () => {
  for (const count of [4, 6, 7, 8]) {
    const needs = equal(count).map((need) => need.mul(whole(5)));
    for (const mixture of mixturesFor(needs, 3)) {
      const settled = settle(drawn(mixture, needs, whole(1)).network);
      expect(needs.map((_, index) => exact(settled?.running.get(`m${index + 1}`) ?? ZERO))).toEqual(
        needs.map(() => "1"),
      );
      if (mixture.kind !== "tree-of-chains") continue;
      const short = settle(drawn(mixture, needs, ratio(5n, 6n)).network);
      for (const machines of mixture.chains) {
        const shares = machines.map((id) => short?.running.get(id) ?? ZERO);
        expect(exact(sum(shares))).toBe(exact(ratio(5n, 6n).mul(whole(machines.length))));
      }
    }
  }
});

test("sizes are those nearest to the square root for which trees can be made", () => {
  const names = equal(30).map((_, index) => `m${index + 1}`);
  // Four and eight chains of 7 and 8 machines have the factor 5 in their shares.
  expect([...treesOfChains(names, equal(30), 3).keys()]).toEqual([2, 3, 6]);
  expect([...treesOfChains(names, equal(30), 2).keys()]).toEqual([2]);
  expect([...chainsOfTrees(names, equal(30), 3).keys()]).toEqual([3, 4, 6]);
  expect([...chainsOfTrees(names, equal(30), 2).keys()]).toEqual([2, 4]);
  expect(treesOfChains(names.slice(0, 3), equal(3), 3).size).toBe(0);
});

test("elements are named by where they are", () => {
  const [tree, ...stations] = mixturesFor(equal(4), 2);
  const namesOf = (mixture: Mixture | undefined): string[] =>
    mixture === undefined
      ? []
      : drawn(mixture, equal(4), whole(1)).drawn.connections.map(({ id, to }) => `${id} ${to}`);
  expect(namesOf(tree)).toEqual([
    "main.through-1 main.divider-1",
    "main.chain-1-through-1 main.chain-1-divider-1",
    "main.chain-2-through-1 main.chain-2-divider-1",
    "main.chain-1-branch-1 m1",
    "main.chain-1-through-2 m2",
    "main.chain-2-branch-1 m3",
    "main.chain-2-through-2 m4",
  ]);
  expect(namesOf(stations[0])).toEqual([
    "main.through-1 main.divider-1",
    "main.tree-1-through-1 main.tree-1-divider-1",
    "main.tree-1-branch-1 m1",
    "main.tree-1-branch-2 m2",
    "main.through-2 main.tree-2-divider-1",
    "main.tree-2-branch-1 m3",
    "main.tree-2-branch-2 m4",
  ]);
});

test("a chain's belts carry what the machines from there on need, and less where dividers turn more aside", () => {
  const flows = (input: number, dividers: ChainLine["dividers"]) => {
    const { through, aside } = chainFlows(whole(input), [10, 20, 30].map(whole), dividers);
    return [through.map(exact), aside.map(exact)];
  };
  for (const dividers of ["even", "branch-first", "through-first"] as const) {
    expect(flows(60, dividers)).toEqual([
      ["60", "50", "30"],
      ["10", "20"],
    ]);
  }
  expect(flows(24, "even")).toEqual([
    ["24", "14", "7"],
    ["10", "7"],
  ]);
  expect(flows(24, "branch-first")).toEqual([
    ["24", "14", "0"],
    ["10", "14"],
  ]);
  expect(flows(24, "through-first")).toEqual([
    ["24", "24", "24"],
    ["0", "0"],
  ]);
});
