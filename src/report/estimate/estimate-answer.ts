/** What the flow solution answers. */
import type { Estimate } from "../../analysis/estimate.ts";
import type { AnswerLine } from "../answer/answer.ts";
import { approximately, duration, fromTime, items, number, percent, plain, rate } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";

/** Exact fractions soon have more digits than anybody reads. */
export const LONGEST_EXACT = 20;

export function estimateAnswer(estimate: Estimate): AnswerLine[] {
  const [settled, full] = [approximately(estimate.settled_per_min), approximately(estimate.full_per_min)];
  const level =
    settled < full * (1 - 1e-9) ? `${percent(settled / full)} of its full ${rate(full)}` : "its full output";
  const mean = estimate.period_min === null ? "" : " on average";
  const held = estimate.feeds.filter(
    (feed) => approximately(feed.accepted_per_min) < approximately(feed.offered_per_min),
  );
  const lost = approximately(estimate.ramp_up_loss);
  return [
    { what: "Makes", text: `${exactRate(estimate.settled_per_min)}${mean}, ${level}; as a flow` },
    { what: "From", text: from(estimate) },
    { what: lost < 0 ? "Gained" : "Lost", text: `${items(Math.abs(lost))} in the ramp-up` },
    ...tightest(estimate),
    ...held.map(({ id, offered_per_min: offered, accepted_per_min: accepted }) => ({
      what: "Held back",
      text: `of ${rate(approximately(offered))} feed ${oneLine(id)} can place ${rate(approximately(accepted))}`,
      isBad: true,
    })),
    {
      what: "Mind",
      text: "belts take no time and items are a fluid here; fillfront run steps through both",
      isMore: true,
    },
  ];
}

function from({ within_tolerance_min: within, settling_min: at, tolerance }: Estimate): string {
  const band = `within ${percent(tolerance)}`;
  const most = within === null ? `${band} never for good` : `${band} ${fromTime(approximately(within))}`;
  return `${most}, all of it ${fromTime(approximately(at))}${exactly(at)}`;
}

function tightest({ belts }: Estimate): AnswerLine[] {
  const inOrder = belts.toSorted((a, b) => approximately(a.headroom_per_min) - approximately(b.headroom_per_min));
  const [first] = inOrder;
  if (first === undefined) return [];
  const alike = inOrder.filter(({ headroom_per_min: left }) => left === first.headroom_per_min).length - 1;
  const also = alike === 0 ? "" : `, and ${number(alike)} more like it`;
  const text = `belt ${oneLine(first.id)} carries ${rate(approximately(first.flow_per_min))}, headroom ${rate(approximately(first.headroom_per_min))}${also}`;
  return [{ what: "Tightest", text }];
}

/** Left out where the rounded figure says it, or where it is long. */
export function exactly(min: string): string {
  const isSaid = plain(duration(approximately(min))) === `${min} min`;
  return isSaid || min.length > LONGEST_EXACT ? "" : ` (exactly ${min} min)`;
}

/** With the fraction behind it where the decimals are rounded and the fraction is short. */
export function exactRate(exact: string): string {
  const thousandths = approximately(exact) * 1000;
  const isSaid = Math.abs(thousandths - Math.round(thousandths)) < 1e-6 || exact.length > LONGEST_EXACT;
  return `${rate(approximately(exact))}${isSaid ? "" : ` (exactly ${exact})`}`;
}
