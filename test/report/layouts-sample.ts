/** A study of layouts that looks like a real one, with figures made up to fill tables; nothing is checked against them. */

import type { PlantDrawing } from "../../src/analysis/plant-drawing.ts";
import { whole } from "../../src/quantity/rational.ts";
import type { StudiedLayouts } from "../../src/report/files/layouts-files.ts";
import { NO_TACTIC } from "../../src/scenario/tactic.ts";
import type { LayoutResult, LayoutStudy } from "../../src/study/layouts/layout-results.ts";
import type { TacticCurve } from "../../src/study/results.ts";

const SETTLED = 360;

const KNOWN: LayoutResult = {
  id: "chain",
  layout: "chain",
  does: { as: "chain", dividers: "even" },
  assuming: null,
  feasible: true,
  reason: null,
  settled_per_min: SETTLED,
  proved: true,
  settling_min: 24.6,
  to_95_min: 11.2,
  ramp_up_loss: 2254,
  hold_up_settled: 2233,
  hold_up_peak: 2240,
  dwell_mean_min: 6.2,
  dwell_longest_min: 8.1,
  over_limit_min: null,
  over_limit_items: null,
  reserve_kept: 1,
  bridges_less_min: 0,
  limits_broken: [],
  evenness_at_half_feed: 0.512,
  dividers: 29,
  merges: 0,
  belts: 59,
  belt_m: 118.5,
  to_scale: true,
  floor_m2: 312,
  crossings: 0,
  tightest_belt: "main.through-1",
  headroom_per_min: 40,
  primed: {
    tactic: "stocked",
    does: {
      ...NO_TACTIC,
      id: "stocked",
      prefill: {
        amounts: { among: { which: "all" }, amount: null },
        belts: false,
        byHandPerMin: whole(60),
        while: "stopped",
      },
    },
    settling_min: 1.6,
    ramp_up_loss: 120,
    items_handled: 1920,
    hold_up_peak: 2240,
    by_hand: true,
  },
  one_more: {
    layout: "chain",
    added: { dividers: 1, merges: 0, belts: 2 },
    torn_out: { dividers: 0, merges: 0, belts: 0 },
  },
  growth: [
    {
      machines: 31,
      layout: "chain",
      added: { dividers: 1, merges: 0, belts: 2 },
      torn_out: { dividers: 0, merges: 0, belts: 0 },
      too_slow: 0,
      busiest_per_min: null,
    },
  ],
  undominated: true,
  beaten_by: null,
  file: "chain.yaml",
};

const UNKNOWN: LayoutResult = {
  ...KNOWN,
  id: "tree",
  layout: "tree",
  does: { as: "tree", ways: 3 },
  feasible: false,
  reason: {
    why: "drawn-so",
    findings: ["dividers of two and three ways cannot make 30 parts; what would do: a loop of 32"],
  },
  settled_per_min: null,
  proved: false,
  settling_min: null,
  to_95_min: null,
  ramp_up_loss: null,
  hold_up_settled: null,
  hold_up_peak: null,
  dwell_mean_min: null,
  dwell_longest_min: null,
  over_limit_min: null,
  over_limit_items: null,
  evenness_at_half_feed: null,
  dividers: null,
  merges: null,
  belts: null,
  belt_m: null,
  floor_m2: null,
  crossings: null,
  tightest_belt: null,
  headroom_per_min: null,
  primed: null,
  one_more: null,
  undominated: false,
  file: null,
};

const LOOP: LayoutResult = {
  ...KNOWN,
  id: "loop",
  layout: "loop",
  does: { as: "loop", ways: 3, returned: { parts: 2, of: 32 } },
  settling_min: 0.6,
  to_95_min: 0.4,
  ramp_up_loss: 96,
  hold_up_settled: 260,
  hold_up_peak: 262,
  dwell_mean_min: 0.7,
  dwell_longest_min: 2.3,
  evenness_at_half_feed: 1,
  dividers: 21,
  merges: 1,
  belts: 54,
  belt_m: 141,
  floor_m2: 398.4,
  crossings: 2,
  tightest_belt: "main.through-1",
  headroom_per_min: 16,
  primed: null,
  one_more: {
    layout: "loop",
    added: { dividers: 0, merges: 0, belts: 1 },
    torn_out: { dividers: 0, merges: 0, belts: 1 },
  },
  growth: [
    {
      machines: 31,
      layout: "loop",
      added: { dividers: 0, merges: 0, belts: 1 },
      torn_out: { dividers: 0, merges: 0, belts: 1 },
      too_slow: 0,
      busiest_per_min: null,
    },
  ],
  file: "loop.yaml",
};

const MIXED: LayoutResult = {
  ...KNOWN,
  id: "tree-of-6-chains",
  layout: "tree-of-chains",
  does: { as: "tree-of-chains", groups: 6, size: 5, otherSize: null, of: "machine" },
  proved: false,
  settling_min: 6.1,
  to_95_min: 3.9,
  ramp_up_loss: 1410,
  hold_up_settled: 1630,
  hold_up_peak: 1632,
  dwell_mean_min: 4.5,
  evenness_at_half_feed: 0.62,
  dividers: 27,
  belts: 57,
  belt_m: 121,
  floor_m2: 330,
  primed: {
    tactic: "low-level",
    does: { ...NO_TACTIC, id: "low-level", lowLevel: { level: 20, among: { which: "all" }, forMin: null } },
    settling_min: 2.1,
    ramp_up_loss: 380,
    items_handled: 0,
    hold_up_peak: 700,
    by_hand: false,
  },
  one_more: {
    layout: "tree-of-chains",
    added: { dividers: 1, merges: 0, belts: 2 },
    torn_out: { dividers: 0, merges: 0, belts: 1 },
  },
  file: "tree-of-6-chains.yaml",
};

const BEATEN: LayoutResult = {
  ...KNOWN,
  id: "chain-of-trees-of-6",
  layout: "chain-of-trees",
  does: { as: "chain-of-trees", groups: 5, size: 6, otherSize: null, of: "machine" },
  settling_min: 27.2,
  dividers: 31,
  belt_m: 150,
  floor_m2: 420,
  undominated: false,
  beaten_by: "loop",
  primed: null,
  one_more: null,
  file: "chain-of-trees-of-6.yaml",
};

export function layoutsSample(change: Partial<LayoutStudy> = {}): StudiedLayouts & { readonly study: LayoutStudy } {
  const study: LayoutStudy = {
    title: "Thirty capping heads on one line (invented)",
    line: "main",
    machines: 30,
    leads_to: "machines",
    length_unit: "m",
    ways: 3,
    feed_per_min: SETTLED,
    needs_per_min: SETTLED,
    seed: "1",
    tick_s: "1/50",
    horizon_min: 120,
    priority: "fast",
    equal_within_items: 0,
    lengths: "from-grid",
    today: "chain",
    layouts: [KNOWN, UNKNOWN, LOOP, MIXED, BEATEN],
    recommended: "loop",
    best_without_reserve: null,
    best_without_reserve_because: null,
    recommended_because: {
      why: "better",
      id: "loop",
      asked: [],
      other: "chain",
      same: [],
      less: {
        criterion: "settling",
        isFirst: true,
        own: 0.6,
        theirs: 24.6,
        built: [
          { dividers: 21, merges: 1 },
          { dividers: 29, merges: 0 },
        ],
      },
    },
    ...change,
  };
  const feasible = study.layouts.filter((layout) => layout.feasible);
  return {
    study,
    scenarios: new Map(feasible.map(({ id }) => [id, "title: A line\n"])),
    drawings: new Map(feasible.map(({ id }) => [id, drawingSample(id)])),
    curves: feasible.map(curveOf),
  };
}

function drawingSample(title: string): PlantDrawing {
  const belt = {
    rate_per_min: "400",
    flow_per_min: "360",
    measured_per_min: null,
    returns: false,
    ...{ kinds: [], comes_first: [], jammed_by: null },
  };
  const rates = {
    per_min: "360",
    measured_per_min: null,
    offered_per_min: null,
    rule: null,
    has_no_belt: false,
    items: [],
    needs_per_min: null,
    share: null,
  };
  return {
    title,
    stands_still: false,
    elements: [
      { ...rates, id: "filler", kind: "feed", line: null },
      { ...rates, id: "capper", kind: "machine", line: "main", needs_per_min: "360", share: "1" },
      { ...rates, id: "store", kind: "outlet", line: null },
    ],
    belts: [
      { ...belt, id: "main.through-1", from: "filler", to: "capper" },
      { ...belt, id: "out", from: "capper", to: "store" },
    ],
  };
}

/** Straight up to the settled output. */
function curveOf({ id, settling_min: settles }: LayoutResult): TacticCurve {
  const timesMin = Array.from({ length: 400 }, (_, i) => (i + 1) / 10);
  const outputPerMin = timesMin.map((t) => SETTLED * Math.min(1, t / (settles ?? 60)));
  let sum = 0;
  const made = outputPerMin.map((perMin) => {
    sum += perMin / 10;
    return Math.floor(sum);
  });
  return { id, timesMin, outputPerMin, made };
}
