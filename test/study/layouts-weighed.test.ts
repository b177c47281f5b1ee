/** Layouts weighed against one another: what beats what, and what is recommended why. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { becauseText } from "../../src/report/layouts/because-text.ts";
import { reasonText } from "../../src/report/layouts/layout-words.ts";
import { PRIORITIES, type Priority } from "../../src/study/layouts/layout-results.ts";
import type { Unweighed } from "../../src/study/layouts/layout-runs.ts";
import { recommendationOf as recommendation } from "../../src/study/layouts/recommended-layout.ts";
import { beats, WEIGHED, weighed } from "../../src/study/layouts/weighed.ts";

/** With its reasons in words. */
function recommendationOf(...given: Parameters<typeof recommendation>) {
  const study = { length_unit: "m", layouts: given[0] } as const;
  const { because, withoutReserveBecause: other, ...found } = recommendation(...given);
  return {
    ...found,
    because: becauseText(because, study),
    withoutReserveBecause: other && becauseText(other, study),
  };
}

const NOTHING: Unweighed = {
  id: "chain",
  layout: "chain",
  does: { as: "chain", dividers: "even" },
  feasible: true,
  assuming: null,
  to_scale: true,
  growth: [],
  reason: null,
  settled_per_min: 100,
  proved: true,
  settling_min: 10,
  to_95_min: 9,
  ramp_up_loss: 100,
  hold_up_settled: 100,
  hold_up_peak: 120,
  dwell_mean_min: 1,
  dwell_longest_min: 2,
  over_limit_min: null,
  over_limit_items: null,
  reserve_kept: 1,
  bridges_less_min: 0,
  limits_broken: [],
  evenness_at_half_feed: 0.8,
  dividers: 5,
  merges: 0,
  belts: 11,
  belt_m: 30,
  floor_m2: 50,
  crossings: 0,
  tightest_belt: null,
  headroom_per_min: null,
  primed: null,
  one_more: {
    layout: "chain",
    added: { dividers: 1, merges: 0, belts: 3 },
    torn_out: { dividers: 0, merges: 0, belts: 1 },
  },
};

/** Each best in one thing. */
const EACH: readonly Unweighed[] = [
  NOTHING,
  { ...NOTHING, id: "tree", settling_min: 1, floor_m2: 90 },
  { ...NOTHING, id: "loop", evenness_at_half_feed: 1, settling_min: 11 },
  { ...NOTHING, id: "tree-of-2-chains", floor_m2: 40, settling_min: 12 },
  { ...NOTHING, id: "chain-of-trees-of-2", hold_up_settled: 20, settling_min: 12 },
  {
    ...NOTHING,
    id: "chain-of-trees-of-3",
    settling_min: 12,
    one_more: { layout: "chain", added: NOTHING.one_more?.added ?? noElements(), torn_out: noElements() },
  },
  { ...NOTHING, id: "tree-of-3-chains", dividers: 4, settling_min: 12 },
];

function noElements() {
  return { dividers: 0, merges: 0, belts: 0 };
}

describe("the recommendation", () => {
  test.each([
    ["fast", "tree", "tree settles soonest, at 1 min instead of 10 min for the chain, with 5 dividers in both"],
    [
      "small",
      "tree-of-2-chains",
      "tree-of-2-chains takes the least floor, 40 m² instead of 50 m² for the chain, with 5 dividers in both",
    ],
    [
      "even",
      "loop",
      "loop shares half the feed most evenly, with Jain's index at 1 instead of 0.8 for the chain, with 5 dividers in both",
    ],
    ["cheap", "tree-of-3-chains", "tree-of-3-chains has the fewest dividers and merges, 4 instead of 5 for the chain"],
    [
      "grow",
      "chain-of-trees-of-3",
      "chain-of-trees-of-3 has the least torn out for growth, 0 elements instead of 1 element for the chain, with 5 dividers in both",
    ],
  ] as const)("for %s is %s", (priority, recommended, because) => {
    expect(recommendationOf(weighed(EACH), priority)).toMatchObject({ recommended, because });
  });

  test("against the runner-up where it is the chain, and by what decides between equals", () => {
    const layouts = weighed([
      { ...NOTHING, ramp_up_loss: 50, dividers: 3 },
      { ...NOTHING, id: "tree", merges: 2, hold_up_settled: 7 },
      { ...NOTHING, id: "loop", settling_min: 20, floor_m2: 1 },
    ]);
    expect(recommendationOf(layouts, "fast")).toMatchObject({
      recommended: "chain",
      because:
        "chain settles as soon, at 10 min, and loses less on the way, 50 items instead of 100 items for the tree, with 3 dividers instead of 5 dividers and 2 merges",
    });
  });

  const because = (layouts: readonly Unweighed[], priority: Priority = "fast") =>
    recommendationOf(weighed(layouts), priority).because;

  test("seconds below a minute, and digits enough to tell two figures apart", () => {
    expect(because([NOTHING, { ...NOTHING, id: "tree", settling_min: 0.403 }])).toContain("at 24 s instead of 10 min");
    expect(
      because([
        { ...NOTHING, id: "loop", settling_min: 1.7309 },
        { ...NOTHING, settling_min: 1.7312 },
      ]),
    ).toContain("at 1.7309 min instead of 1.7312 min");
    expect(because([{ ...NOTHING, hold_up_settled: 100.4 }, NOTHING].toReversed(), "cheap")).toContain(
      "100 items instead of 100.4 items",
    );
  });

  test("one that does not settle is no figure to compare with", () => {
    const unsettled = { ...NOTHING, settling_min: null, ramp_up_loss: null, hold_up_settled: null };
    expect(because([unsettled, { ...NOTHING, id: "tree" }])).toBe(
      "tree settles soonest, at 10 min, where the chain does not settle within the horizon, with 5 dividers in both",
    );
    expect(
      because([
        { ...unsettled, floor_m2: 60 },
        { ...unsettled, id: "tree", floor_m2: 50 },
      ]),
    ).toBe("tree takes less floor, 50 m² instead of 60 m² for the chain, with 5 dividers in both");
  });

  test("one by itself, and the best of those that make the most", () => {
    expect(because([NOTHING])).toBe("chain is the only one that can be built; it settles at 10 min");
    expect(because([NOTHING], "grow")).toBe("chain is the only one that can be built; growth tears out 1 element");
    const less = { ...NOTHING, id: "loop", settled_per_min: 90, settling_min: 1 };
    expect(because([less, NOTHING])).toBe("chain is the only one to make the most; it settles at 10 min");
    expect(because([less, NOTHING, { ...NOTHING, id: "tree", settling_min: 5 }])).toBe(
      "tree, of those that make the most, settles soonest, at 5 min instead of 10 min for the chain, with 5 dividers in both",
    );
  });

  test("nothing is claimed in which the other one is better", () => {
    const { one_more: more } = NOTHING;
    if (more === null) throw new Error("the chain can grow");
    const tree = { ...NOTHING, id: "tree", floor_m2: 40, one_more: { ...more, added: { ...more.added, belts: 9 } } };
    expect(because([NOTHING, tree], "grow")).toBe(
      "tree has as much torn out for growth, 1 element, and takes less floor, 40 m² instead of 50 m² for the chain, with 5 dividers in both",
    );
    expect(because([NOTHING, { ...NOTHING, id: "tree" }], "cheap")).toBe(
      "chain has as many dividers and merges, 5, takes as much belt, 30 m, takes as much floor, 50 m², and is otherwise no worse than the tree",
    );
  });

  test("what makes less loses, however good it is, and is told so", () => {
    const layouts = weighed([NOTHING, { ...NOTHING, id: "tree", settled_per_min: 99, settling_min: 1, floor_m2: 1 }]);
    for (const priority of PRIORITIES) expect(recommendationOf(layouts, priority).recommended).toBe("chain");
    expect(layouts.map(({ reason }) => reason && reasonText(reason))).toEqual([
      null,
      "it is slower for good: it settles at 99/min, where chain makes 100/min",
    ]);
  });

  test("one that keeps all limits goes before one that breaks any, whatever else it does, and is told so", () => {
    const kept = { over_limit_min: 0, over_limit_items: 0 };
    const slow = { ...NOTHING, ...kept, id: "loop", settling_min: 30 };
    const chain = { ...NOTHING, ...kept, over_limit_min: 3 };
    const tree = { ...NOTHING, ...kept, id: "tree", settling_min: 20, over_limit_items: 1 };
    expect(because([chain, tree, slow])).toBe("loop is the only one to keep all limits; it settles at 30 min");
    expect(because([chain, { ...tree, over_limit_items: 0 }, slow])).toBe(
      "tree, of those that keep all limits, settles soonest, at 20 min instead of 30 min for the loop, with 5 dividers in both",
    );
    expect(because([chain, { ...slow, settled_per_min: 99 }])).toBe(
      "loop is the only one to keep all limits; it settles at 30 min",
    );
    // Unless it makes nothing; and where none keeps them all, limits decide nothing.
    expect(because([chain, { ...slow, settled_per_min: 0 }])).toBe(
      "chain is the only one to make the most; it settles at 10 min",
    );
    expect(because([chain, tree])).toContain("chain settles soonest, at 10 min instead of 20 min for the tree");
    expect(because([chain, slow, { ...slow, id: "tree", settled_per_min: 99 }])).toBe(
      "loop is the only one to keep all limits and make the most; it settles at 30 min",
    );
  });

  test("what leaves less stock than today's line is told beside it; equals leave the line as it stands", () => {
    const held = { today: "chain", grain: { products: 10, minutes: 0.5 } };
    const tree = { ...NOTHING, id: "tree", settling_min: 1, reserve_kept: 0.2, bridges_less_min: 2 };
    const loop = { ...NOTHING, id: "loop", settling_min: 9.6, ramp_up_loss: 91 };
    expect(recommendationOf(weighed([NOTHING, tree, loop]), "fast", held)).toEqual({
      recommended: "chain",
      because:
        "chain, of those that leave today's stock in the buffers, settles as soon, at 10 min, loses as much on the way, 100 items, and is otherwise no worse than the loop",
      withoutReserve: "tree",
      withoutReserveBecause: "tree settles soonest, at 1 min instead of 10 min for the chain, with 5 dividers in both",
    });
    expect(recommendationOf(weighed([NOTHING, { ...loop, ramp_up_loss: 89 }]), "fast", held).recommended).toBe("loop");
    // Limits come first, even before stock.
    const over = { ...NOTHING, over_limit_min: 5, over_limit_items: 0 };
    const kept = { ...tree, settling_min: 20, over_limit_min: 0, over_limit_items: 0 };
    expect(recommendationOf(weighed([over, kept]), "fast", held)).toMatchObject({
      recommended: "tree",
      withoutReserve: null,
    });
  });

  test("nothing is recommended where nothing is made, or nothing can be built", () => {
    const still = weighed([{ ...NOTHING, settled_per_min: 0 }]);
    expect(recommendationOf(still, "fast").recommended).toBe(null);
    expect(still[0]?.undominated).toBe(false);
    expect(recommendationOf(weighed([{ ...NOTHING, feasible: false }]), "fast").recommended).toBe(null);
  });
});

describe("to be beaten", () => {
  const few = fc.constantFrom(1, 2, 3);
  const layout = fc
    .record({
      settled_per_min: fc.constantFrom(0, 1, 2, null),
      settling_min: fc.option(few),
      floor_m2: few,
      evenness_at_half_feed: few,
      ramp_up_loss: few,
      over_limit_min: fc.constantFrom(null, 0, 1),
    })
    .map((parts): Unweighed => ({ ...NOTHING, ...parts }));

  test("is a strict partial order", () => {
    let beaten = 0;
    let chained = 0;
    fc.assert(
      fc.property(layout, layout, layout, (a, b, c) => {
        expect(beats(a, a)).toBe(false);
        if (beats(a, b)) expect(beats(b, a)).toBe(false);
        if (beats(a, b) && beats(b, c)) expect(beats(a, c)).toBe(true);
        if (beats(a, b)) beaten++;
        if (beats(a, b) && beats(b, c)) chained++;
      }),
      { numRuns: 2000 },
    );
    expect(beaten).toBeGreaterThan(250);
    expect(chained).toBeGreaterThan(10);
  });

  test("is to be beaten by one that nothing beats", () => {
    let beaten = 0;
    fc.assert(
      fc.property(fc.array(layout, { minLength: 1, maxLength: 7 }), (given) => {
        const layouts = weighed(given.map((one, index) => ({ ...one, id: String(index) })));
        for (const one of layouts) {
          const by = layouts.find(({ id }) => id === one.beaten_by);
          if (by !== undefined) expect([by.undominated, beats(by, one)]).toEqual([true, true]);
          if (by !== undefined) beaten++;
          const stands = one.settled_per_min === null || one.settled_per_min === 0;
          expect(one.undominated).toBe(by === undefined && !stands);
        }
      }),
    );
    expect(beaten).toBeGreaterThan(80);
  });

  test("each thing that is weighed can decide", () => {
    expect(WEIGHED.map(({ name }) => name)).toHaveLength(10);
    for (const { of } of WEIGHED) expect(EACH.map(of)).not.toContain(null);
    const over = { ...NOTHING, over_limit_items: 1 };
    expect([beats(NOTHING, over), beats({ ...over, settling_min: 1 }, NOTHING)]).toEqual([true, false]);
    expect(EACH.map((one) => EACH.some((other) => beats(other, one)))).not.toContain(true);
  });
});
