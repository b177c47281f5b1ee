/** Several kinds from one feed: in their proportion, evenly or in blocks, with and without vehicles and surge buffers. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { simulate } from "../../src/engine/simulate.ts";
import { initialState } from "../../src/engine/start-state.ts";
import { compile } from "../../src/network/compile.ts";
import { sequenceOf } from "../../src/network/feeds.ts";
import { autoTickS } from "../../src/network/tick.ts";
import { rational } from "../../src/quantity/rational.ts";
import { free, mixed, releases, unloading } from "./feeding.ts";
import { advanceOneTick } from "./one-tick.ts";
import { randomPlant } from "./random-networks.ts";

const counts = fc.array(fc.integer({ min: 1, max: 40 }), { minLength: 2, maxLength: 8 });

describe("spread", () => {
  test("red 3, blue 2", () => {
    const found = releases(compile(free(mixed("mix", "60", { red: 3, blue: 2 })), rational("1/2")), 20);
    expect(found.map(({ item }) => item).join(" ")).toBe("red blue red blue red red blue red blue red");
  });

  /** The furthest that any kind is ever off its share of what was sent, items. */
  function furthestOff(given: readonly number[]): number {
    const items = given.map((count, kind) => ({ item: `kind-${kind}`, count }));
    const total = given.reduce((sum, count) => sum + count, 0);
    const kindOf = new Map(items.map(({ item }, kind) => [item, kind]));
    const sent = given.map(() => 0);
    let most = 0;
    for (const [n, item] of sequenceOf({ items, order: "spread" }).entries()) {
      const kind = kindOf.get(item) ?? -1;
      sent[kind] = (sent[kind] ?? 0) + 1;
      // In whole numbers, so that nothing is rounded.
      for (const [k, count] of given.entries())
        most = Math.max(most, Math.abs((sent[k] ?? 0) * total - (n + 1) * count));
    }
    return most / total;
  }

  test("no kind is ever a whole item off its share: at most 1 − 1/(2k − 2), as Tijdeman has it", () => {
    const uneven = fc.array(fc.double({ min: 0, max: 6, noNaN: true }), { minLength: 2, maxLength: 24 });
    fc.assert(
      fc.property(
        fc.oneof(
          counts,
          uneven.map((logs) => logs.map((log) => Math.round(Math.exp(log)))),
        ),
        (given) => {
          expect(furthestOff(given)).toBeLessThanOrEqual(1 - 1 / (2 * given.length - 2));
        },
      ),
      { numRuns: 400 },
    );
    // Sending the kind furthest behind is up to 1.27 items off with these.
    expect(furthestOff([369, 2, 6, 369, 11, 2, 10, 17, 35])).toBeLessThan(1);
    expect(furthestOff([11, 9, 291, 3, 224, 3, 7, 335, 4, 2, 10, 335, 8, 13, 17, 38, 5])).toBeLessThan(1);
  });

  test("and the whole sequence has each kind as often as stated", () => {
    const items = [
      { item: "a", count: 6 },
      { item: "b", count: 4 },
      { item: "c", count: 2 },
    ];
    expect(sequenceOf({ items, order: "spread" }).toSorted().join("")).toBe("aaabbc");
  });

  test("holds for what is released, too, item by item", () => {
    fc.assert(
      fc.property(counts, (given) => {
        const kinds = Object.fromEntries(given.map((count, kind) => [`kind-${kind}`, count]));
        const total = given.reduce((sum, count) => sum + count, 0);
        const found = releases(compile(free(mixed("mix", "60", kinds)), rational("1/2")), 400);
        expect(found.length).toBeGreaterThan(100);
        const sent: Record<string, number> = {};
        for (const [n, { item }] of found.entries()) {
          sent[item] = (sent[item] ?? 0) + 1;
          const off = Object.entries(kinds).map(([kind, count]) =>
            Math.abs((sent[kind] ?? 0) * total - (n + 1) * count),
          );
          expect(Math.max(...off)).toBeLessThan(total);
        }
      }),
      { numRuns: 40 },
    );
  });
});

test("blocks are as long as stated, and go on where a vehicle left off", () => {
  const dock = {
    ...mixed("dock", "60", { red: 2, blue: 4 }, "blocks"),
    batch: unloading("x", "1", { everyMin: "1", items: 5 }).batch,
  };
  const found = releases(compile(free(dock), rational("1/2")), 240 + 20);
  expect(found.map(({ item }) => item[0]).join("")).toBe("rrbbbbrrbbbbrrb");
});

test("over random plants with mixed feeds, vehicles and surge buffers nothing is lost or made up, kind by kind", () => {
  let vehicles = 0;
  let surges = 0;
  fc.assert(
    fc.property(randomPlant(), (line) => {
      const tickS = autoTickS(line);
      const program = compile(line, tickS);
      const { totals, noted } = simulate(program, { horizonTicks: 2500, check: true, stepAll: true });
      for (const item of line.items.keys()) {
        const [inwards = NaN, out = NaN] = [
          (totals.fedItems[item] ?? 0) + (totals.made[item] ?? 0),
          (totals.taken[item] ?? 0) + (totals.left[item] ?? 0) + (noted.holdUp[item] ?? 0),
        ];
        expect(out).toBe(inwards);
      }
      expect(total(totals.fedItems)).toBe(total(totals.fed));
      // Place by place and buffer by buffer it is what lay on the line at all.
      expect(total(totals.placeTicks) + total(totals.bufferTicks)).toBe(total(totals.holdUpTicks));
      if (line.feeds.some(({ batch }) => batch !== null)) vehicles++;
      if (line.surges.length > 0) surges++;
    }),
    { numRuns: 200 },
  );
  expect(vehicles).toBeGreaterThan(60);
  expect(surges).toBeGreaterThan(60);
});

test("what each feed has released is its sequence, whatever held it up", () => {
  fc.assert(
    fc.property(randomPlant(), (line) => {
      const program = compile(line, autoTickS(line));
      const state = initialState(program);
      while (state.tick < 1500) advanceOneTick(program, state);
      const expected = line.items.map(() => 0);
      for (const [f, element] of line.feeds.entries()) {
        const sequence = sequenceOf(element);
        for (let n = 0; n < (state.totals.fed[f] ?? 0); n++) {
          const item = line.items.indexOf(sequence[n % sequence.length] ?? "");
          expected[item] = (expected[item] ?? 0) + 1;
        }
      }
      expect(Array.from(state.totals.fedItems)).toEqual(expected);
    }),
    { numRuns: 60 },
  );
});

function total(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0);
}
