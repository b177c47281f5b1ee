/** The same line gives the same run, whatever its names and however fast its clock. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { simulate } from "../../src/engine/simulate.ts";
import { compile } from "../../src/network/compile.ts";
import type { Network } from "../../src/network/network.ts";
import { autoTickS } from "../../src/network/tick.ts";
import { exact, type Rational, rational } from "../../src/quantity/rational.ts";
import type { Rule } from "../../src/scenario/scenario.ts";
import { connection, network } from "../analysis/flow-networks.ts";
import { belt, divider, feed, fingerprint, machine, run, settledCycles } from "./lines.ts";
import { AWKWARD, randomNetwork } from "./random-networks.ts";

const anyNetwork = fc.oneof(randomNetwork(), randomNetwork(AWKWARD));

function ticksOf(line: Network, tickS: Rational = autoTickS(line)): string {
  return fingerprint(simulate(compile(line, tickS), { horizonTicks: 3000 }));
}

test("twice the same line, twice the same run", () => {
  fc.assert(
    fc.property(anyNetwork, anyNetwork, (line, another) => {
      const first = ticksOf(line);
      ticksOf(another);
      expect(ticksOf(line)).toBe(first);
    }),
    { numRuns: 40 },
  );
});

function renamed(line: Network): Network {
  const name = (id: string): string => `z${[...id].toReversed().join("")}`;
  const all = <T extends { readonly id: string }>(list: readonly T[]): T[] =>
    list.map((one) => ({ ...one, id: name(one.id) }));
  return {
    ...line,
    feeds: all(line.feeds),
    dividers: all(line.dividers),
    merges: all(line.merges),
    machines: all(line.machines),
    outlets: all(line.outlets),
    connections: all(line.connections).map((one) => ({ ...one, from: name(one.from), to: name(one.to) })),
  };
}

test("other names, in another alphabetical order, change nothing", () => {
  fc.assert(
    fc.property(anyNetwork, (line) => {
      expect(ticksOf(renamed(line))).toBe(ticksOf(line));
    }),
    { numRuns: 40 },
  );
});

/** All rates times k, all times by k. */
function sped(line: Network, k: Rational): Network {
  return {
    ...line,
    feeds: line.feeds.map((one) => ({
      ...one,
      profile: one.profile.map(({ fromMin, ratePerMin }) => ({
        fromMin: fromMin.div(k),
        ratePerMin: ratePerMin.mul(k),
      })),
    })),
    machines: line.machines.map((one) => ({ ...one, cycleMin: one.cycleMin.div(k) })),
    connections: line.connections.map((one) => ({
      ...one,
      belt: one.belt && {
        ...one.belt,
        ratePerMin: one.belt.ratePerMin.mul(k),
        transitMin: one.belt.transitMin.div(k),
      },
    })),
  };
}

test("all rates times k, all times and the tick by k: the very same ticks", () => {
  fc.assert(
    fc.property(anyNetwork, fc.constantFrom("2", "1/3", "7/5", "60"), (line, k) => {
      expect(ticksOf(sped(line, rational(k)), autoTickS(line).div(k))).toBe(ticksOf(line));
    }),
    { numRuns: 40 },
  );
});

interface ChainGiven {
  readonly needs: readonly string[];
  readonly feedPerMin: string;
  readonly rule: Rule;
  readonly room: number;
}

/** Branches of 90/min, a through belt of 400/min. */
function chainOf({ needs, feedPerMin, rule, room }: ChainGiven): Network {
  const through = belt("400", 20, "2");
  const places = needs.slice(1).map((_, i) => i + 1);
  const next = (place: number) => (place < needs.length ? `divider-${place}` : `machine-${place}`);
  return network({
    feeds: [feed("feed", feedPerMin)],
    dividers: places.map((place) => divider(`divider-${place}`, rule)),
    machines: needs.map((need, i) => machine(`machine-${i + 1}`, exact(rational("60").div(need)), { infeed: room })),
    connections: [
      connection("feed", next(1), { belt: through }),
      ...places.flatMap((place) => [
        connection(`divider-${place}`, `machine-${place}`, { belt: belt("90", 8, "1") }),
        connection(`divider-${place}`, next(place + 1), { belt: through }),
      ]),
    ],
  });
}

test("halving the tick moves no settled rate", () => {
  let compared = 0;
  const given = fc.record({
    needs: fc.array(fc.constantFrom("10", "12", "15", "20", "30", "40", "60"), { minLength: 1, maxLength: 6 }),
    feedPerMin: fc.constantFrom("20", "45", "60", "80", "90", "120", "150", "200"),
    rule: fc.constantFrom<Rule>("even", "ordered"),
    room: fc.integer({ min: 10, max: 40 }),
  });
  fc.assert(
    fc.property(given, (chain) => {
      const line = chainOf(chain);
      const tickS = autoTickS(line);
      const rates = [tickS, tickS.div(2n), tickS.div(3n)].map((tick) => {
        const found = run(line, { tickS: exact(tick), minutes: "120", check: false });
        return line.machines.map(({ id }) => settledCycles(found, id));
      });
      const proved = rates.filter((list) => !list.includes("not proved"));
      if (proved.length > 1) compared++;
      for (const list of proved) expect(list).toEqual(proved[0]);
    }),
    { numRuns: 40 },
  );
  expect(compared).toBeGreaterThan(25);
});
