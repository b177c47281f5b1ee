/** The layout to build under chance: the one that leads in what is wanted first, where the interval tells it from every other. */
import type { LayoutResult, NotTold, Priority } from "../layouts/layout-results.ts";
import { type Recommendation, recommendationOf } from "../layouts/recommended-layout.ts";
import { NO_GRAIN } from "../layouts/reserve.ts";
import { isToChoose, keepsLimits, standsStill } from "../layouts/weighed.ts";
import type { LuckFigure, LuckFigureName, SameLuck } from "../luck-results.ts";

/** `null`: not left to chance. Of a fast start the loss, which every replication has and chance moves less than a time. */
const WANTED: Readonly<Record<Priority, LuckFigureName | null>> = {
  fast: "ramp_up_loss",
  small: null,
  even: "evenness_at_half_feed",
  cheap: null,
  grow: null,
  money: null,
};

interface Asked {
  readonly priority: Priority;
  readonly today: string | null;
}

export function recommendationOnLuck(layouts: readonly LayoutResult[], luck: SameLuck, asked: Asked): Recommendation {
  const { priority, today } = asked;
  const wanted = WANTED[priority];
  const figure = luck.figures.find((one) => one.figure === wanted) ?? null;
  const standing = layouts.filter(
    (layout) => isToChoose(layout, today) && !standsStill(layout) && !luck.slower_for_good.includes(layout.id),
  );
  const [only] = standing;
  if (only === undefined || standing.length === 1 || wanted === null) return asBuilt(layouts, standing, asked);
  if (figure === null || figure.leader === null) {
    return { recommended: null, because: { why: "too-few-replications" } };
  }
  const leader = standing.find(({ id }) => id === figure.leader);
  if (leader === undefined) return { recommended: null, because: { why: "none-leads" } };
  if (!keepsLimits(leader) && standing.some(keepsLimits)) {
    return { recommended: null, because: { why: "leads", id: leader.id, priority, breaksLimits: true } };
  }
  return figure.told_apart
    ? { recommended: leader.id, because: { why: "leads", id: leader.id, priority, breaksLimits: false } }
    : { recommended: null, because: notTold(leader, figure, standing, asked) };
}

function notTold(
  leader: LayoutResult,
  { not_told_apart: open }: LuckFigure,
  standing: readonly LayoutResult[],
  { priority, today }: Asked,
): NotTold {
  const rest = standing.filter(({ id }) => id === leader.id || open.includes(id));
  const { recommended: simplest } = recommendationOf(rest.map(withoutChance), "small");
  return {
    why: "not-told",
    id: leader.id,
    priority,
    today: leader.id === today ? "leads" : open.some((id) => id === today) ? "open" : null,
    open,
    simplest: simplest === leader.id ? null : simplest,
  };
}

/** By what is built alone, among those not told to make less. */
function asBuilt(
  layouts: readonly LayoutResult[],
  standing: readonly LayoutResult[],
  { priority, today }: Asked,
): Recommendation {
  const heldTo = { today, grain: NO_GRAIN };
  return standing.length === 0
    ? recommendationOf(layouts, priority, heldTo)
    : recommendationOf(standing.map(withoutChance), priority, heldTo);
}

/** What chance moves decides nothing then; that it is undominated may rest on it. */
function withoutChance(layout: LayoutResult): LayoutResult {
  return {
    ...layout,
    settled_per_min: 1,
    settling_min: null,
    ramp_up_loss: null,
    hold_up_settled: null,
    hold_up_peak: null,
    evenness_at_half_feed: null,
    undominated: true,
  };
}
