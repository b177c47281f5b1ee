/** What the search for the best start answers: what to do, what it brings and costs, what one step less loses, and how sure that is. */
import type { BestStart, BestStudy, PlacedResult } from "../../study/best/best-results.ts";
import type { AnswerLine } from "../answer/answer.ts";
import { startMoneyAnswer } from "../answer/money-answer.ts";
import { BASELINE } from "../text/baseline.ts";
import { duration, fromTime, items, listed, listedShort, number, percent } from "../text/figures.ts";
import { goalsText } from "../text/goals-text.ts";
import { asksAnswer, tacticText } from "../text/tactic-words.ts";
import { oneLine } from "../text/text-width.ts";

export function bestAnswer(study: BestStudy): AnswerLine[] {
  const { starts, recommended } = study;
  const best = starts.find(({ id }) => id === recommended);
  const none = starts.find(({ id }) => id === BASELINE);
  if (best === undefined || none === undefined) {
    return [
      { what: "Do", text: "the line stops with nothing done and with all that the floor grants", isBad: true },
      sure(study),
    ];
  }
  const isNothing = best.id === BASELINE;
  return [
    {
      what: "Do",
      text: isNothing
        ? "nothing: no start that the floor grants is better"
        : `${oneLine(best.id)}: ${oneLine(tacticText(best.does))}`,
    },
    ...goals(study),
    { what: "From", text: timesText(best, isNothing ? undefined : none) },
    { what: "Lost", text: lostText(best, isNothing ? undefined : none) },
    ...startMoneyAnswer(best.money),
    ...asksAnswer(best.asks_for),
    ...less(best),
    ...against(best, none),
    ...known(study, best),
    ...chance(study),
    sure(study),
    ...stock(study),
  ];
}

function goals({ goals: wanted, goals_reached: reached, search }: BestStudy): AnswerLine[] {
  if (reached === null) return [];
  if (reached) return [{ what: "Goal", text: `${goalsText(wanted)}: reached` }];
  const none = search.is_complete ? "nothing that the floor grants reaches it" : "nothing that was tried reaches it";
  return [{ what: "Goal", text: `${goalsText(wanted)}: ${none}; this is best without it`, isBad: true }];
}

function timesText({ to_95_min: at, settling_min: full }: BestStart, none: BestStart | undefined): string {
  if (at === null) return "95\u00a0% never for good";
  const all = full === null ? "" : `, all of it ${fromTime(full)}${instead(full, none?.settling_min)}`;
  return `95\u00a0% ${fromTime(at)}${instead(at, none?.to_95_min)}${all}`;
}

function instead(own: number, other: number | null | undefined): string {
  if (other === null || other === undefined || duration(other) === duration(own)) return "";
  return ` instead of ${duration(other)}`;
}

function lostText({ ramp_up_loss: lost, items_handled: handled }: BestStart, none: BestStart | undefined): string {
  const own = lossText(lost);
  const other =
    none === undefined || lossText(none.ramp_up_loss) === own ? "" : ` instead of ${lossText(none.ramp_up_loss)}`;
  return `${own}${other}; ${handled === 0 ? "nothing" : items(handled)} handled`;
}

export function lossText(lost: number | null): string {
  if (lost === null) return "not known";
  return Math.round(lost) < 0 ? `${items(-lost)} gained` : items(lost);
}

function lostOrGained(lost: number | null): string {
  const text = lossText(lost);
  return text.endsWith("gained") ? text : `${text} lost`;
}

function less({ one_less: one }: BestStart): AnswerLine[] {
  if (one === null) return [];
  const at = one.to_95_min === null ? "95\u00a0% never for good" : `95\u00a0% ${fromTime(one.to_95_min)}`;
  return [
    {
      what: "One less",
      text: `${oneLine(one.what)}: ${lostOrGained(one.ramp_up_loss)}, ${at}`,
    },
  ];
}

function against(best: BestStart, none: BestStart): AnswerLine[] {
  if (best.id === BASELINE) return [];
  const { reserve_kept: kept, hold_up_peak: peak, over_limit_min: over } = best;
  const parts = [
    ...(peak > none.hold_up_peak
      ? [`${number(peak)} items on the line at most instead of ${number(none.hold_up_peak)}`]
      : []),
    ...(kept !== null && kept < 0.995 ? [`${percent(kept)} of the stock is left`] : []),
    ...(over !== null && over > 0 ? [`a limit is broken for ${duration(over)}, as with all else`] : []),
  ];
  return parts.length === 0 ? [] : [{ what: "Against it", text: parts.join("; "), isMore: true }];
}

/** How much more than what is known without a search. */
function known({ best_known: one }: BestStudy, best: BestStart): AnswerLine[] {
  if (one === null || one.id === best.id) return [];
  const at = one.to_95_min === null ? "" : `, 95\u00a0% ${fromTime(one.to_95_min)}`;
  const name = one.id === BASELINE ? "doing nothing" : oneLine(one.id);
  const text = `the best of the tactics known before, ${name}: ${lossText(one.ramp_up_loss)}${at}, ${items(one.items_handled)} handled`;
  return [{ what: "Beside", text }];
}

/** Figures above are those of the line without chance; here is what is left of them. */
function chance({ under_chance: played, recommended }: BestStudy): AnswerLine[] {
  if (played === undefined) return [];
  const { n, best_without: before, is_told, starts } = played;
  const lossOf = (id: string | null): number | null => starts.find((one) => one.id === id)?.ramp_up_loss ?? null;
  const meanOf = (id: string | null): string => lossText(lossOf(id));
  const beside = recommended === BASELINE ? "" : `, ${meanOf(BASELINE)}`;
  const own = `${lostOrGained(lossOf(recommended))}${beside} with nothing done`;
  const lead = is_told ? "told apart from the others" : "not told apart from all others";
  const out =
    before === recommended || before === null
      ? ""
      : `${oneLine(before)} is best only without stops, ${meanOf(before)}; `;
  return [{ what: "Chance", text: `${out}mean of ${number(n)} replications on the same luck: ${own}; ${lead}` }];
}

function sure({ search, left_out }: BestStudy): AnswerLine {
  const { tried, is_complete, recommended_is_proved, open_starts, item_by_item, was_stopped } = search;
  const how = was_stopped
    ? "stopped before it was done: better ones may be left"
    : is_complete
      ? "all doses with one another, whole buffers"
      : recommended_is_proved
        ? `none one dose${item_by_item === true ? ", buffer or item" : " or buffer"} away is better`
        : "what lies beside it is not tried";
  const open = open_starts === 0 || was_stopped ? "" : `; beside ${number(open_starts)} others not all is tried`;
  const off = left_out === 0 ? "" : `; ${number(left_out)} more that nothing beats are left off`;
  return { what: "Sure", text: `${number(tried)} starts tried: ${how}${open}${off}`, isBad: was_stopped };
}

/** The number of buffers for which the best placement gains most on the naive ones. */
function stock({ placements }: BestStudy): AnswerLine[] {
  const most = gainingMost(placements ?? []);
  return most === null ? [] : [{ what: "Stock", text: placedText(most), isMore: true }];
}

export function gainingMost(placements: readonly PlacedResult[]): PlacedResult | null {
  return placements.reduce<PlacedResult | null>(
    (best, one) => (gainOf(one) > (best === null ? 0 : gainOf(best)) ? one : best),
    null,
  );
}

function gainOf({ best, head, tail, even }: PlacedResult): number {
  const naive = [head, tail, even].flatMap((one) => one?.settling_min ?? []);
  return best.settling_min === null || naive.length === 0 ? 0 : Math.min(...naive) - best.settling_min;
}

export function placedText({ best, head, tail, even }: PlacedResult): string {
  const at = (one: PlacedResult["head"]): string => (one?.settling_min == null ? "never" : duration(one.settling_min));
  const where = listedShort(
    best.placed.map(({ machine }) => oneLine(machine)),
    6,
  );
  const naive = [
    ...(head === null ? [] : [`${at(head)} from the head`]),
    ...(tail === null ? [] : [`${at(tail)} from the tail`]),
    ...(even === null ? [] : [`${at(even)} spread evenly`]),
  ];
  return `${items(best.items)} at ${where}: full output from ${at(best)}; ${listed(naive)}`;
}

/** Nothing done, what is recommended, and of the others the least loss, with hands and without, and the first with 95 %. */
export function bestInEach({ starts, recommended, best_known: known }: BestStudy): ReadonlySet<string> {
  const leastOf = (some: readonly BestStart[], of: (one: BestStart) => number | null): string[] =>
    some
      .toSorted((a, b) => (of(a) ?? Number.MAX_VALUE) - (of(b) ?? Number.MAX_VALUE))
      .slice(0, 1)
      .map(({ id }) => id);
  return new Set([
    BASELINE,
    ...(recommended === null ? [] : [recommended]),
    ...(known === null ? [] : [known.id]),
    ...leastOf(starts, (one) => one.ramp_up_loss),
    ...leastOf(
      starts.filter((one) => one.items_handled === 0),
      (one) => one.ramp_up_loss,
    ),
    ...leastOf(starts, (one) => one.to_95_min),
  ]);
}
