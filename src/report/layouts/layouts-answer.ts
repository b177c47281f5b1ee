/** What a study of layouts answers: which to build, what it brings, what it takes, and what else there is to choose. */
import type { LengthUnit } from "../../quantity/units.ts";
import type { LayoutResult, LayoutStudy } from "../../study/layouts/layout-results.ts";
import type { SameLuck } from "../../study/luck-results.ts";
import { type AnswerLine, toldIn } from "../answer/answer.ts";
import { layoutMoneyAnswer } from "../answer/money-answer.ts";
import { isEqual } from "../comparison/outcome-words.ts";
import { sureAndMore } from "../luck/luck-answer.ts";
import { figureOf, figureWanted, lossOnLuck } from "../luck/luck-figures.ts";
import { moreOf } from "../luck/luck-findings.ts";
import { duration, fromTime, items, listedShort, number, rate } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";
import { becauseText } from "./because-text.ts";
import {
  areaOrDash,
  buildable,
  keepsLimits,
  lengthOrDash,
  limitedIn,
  lineInBrief,
  oneMoreCell,
  TODAY,
} from "./layout-figures.ts";
import { layoutsFindings } from "./layouts-findings.ts";

export function layoutsAnswer(study: LayoutStudy): AnswerLine[] {
  const found = layoutsFindings(study);
  const all = buildable(study);
  const leader =
    study.replications === undefined
      ? null
      : (figureOf(study.replications, figureWanted(study.priority))?.leader ?? null);
  const chosen = all.find(({ id }) => id === (study.recommended ?? leader));
  const today = all.find(({ id }) => id === study.today);
  return [
    {
      what: toDo(study, chosen, today),
      text: `${oneLine(becauseText(study.recommended_because, study))} (priority ${study.priority})`,
      isBad: study.recommended === null,
    },
    ...(chosen === undefined ? [] : [...brings(chosen, today, study), ...onGrid(chosen, study)]),
    ...limits(study, chosen),
    ...(study.replications === undefined ? others(study, all) : sureToBuild(study, study.replications)),
    ...toldIn(found, ["stopped", "no-end"], "Against it", { isBad: true }),
    ...(study.replications === undefined ? [] : others(study, all).map((line) => ({ ...line, isMore: true }))),
    ...cannot(study),
    ...toldIn(found, ["if"], "Possible", { isMore: true }),
    ...toldIn(found, ["primed"], "Primed", { isMore: true }).map((line) => ({
      ...line,
      text: line.text.replace(/^Best primed: /, ""),
    })),
    ...toldIn(found, ["unsettled", "unproved"], "Mind", { isMore: true }),
    {
      what: "Line",
      text: lineInBrief(oneLine(study.line), study)
        .replace(/\.$/, "")
        .replace(/^Line /, ""),
      isMore: true,
    },
  ];
}

/** Beside the line as it stands. */
function brings(
  chosen: LayoutResult,
  today: LayoutResult | undefined,
  { length_unit: unit, replications: luck, equal_within_items: equal }: LayoutStudy,
): AnswerLine[] {
  const likely = luck === undefined ? "" : "likely ";
  const other = today === chosen ? undefined : today;
  const beside = (own: string, cell: (layout: LayoutResult) => string): string => {
    const before = other === undefined ? own : cell(other);
    return before === own || before === "not known" ? own : `${own} (today ${before.replace(/^from /, "")})`;
  };
  const told = (cell: (layout: LayoutResult) => string): string => beside(cell(chosen), cell);
  /** Equals are not set against one another. */
  const unless = (
    within: number,
    of: (layout: LayoutResult) => number | null,
    cell: (value: number | null) => string,
  ) => {
    const [own, before] = [of(chosen), other === undefined ? null : of(other)];
    const isSame = own !== null && before !== null && isEqual(own, before, within);
    return isSame ? cell(own) : told((layout) => cell(of(layout)));
  };
  const inMinutes = today?.settled_per_min ? equal / today.settled_per_min : 0;
  const at = (of: (layout: LayoutResult) => number | null): string => unless(inMinutes, of, timeText);
  const more = chosen.one_more;
  return [
    {
      what: "Makes",
      text: told(({ settled_per_min: settled }) => (settled === null ? "not known" : `${likely}${rate(settled)}`)),
    },
    {
      what: "From",
      text: `95\u00a0% ${at((one) => one.to_95_min)}${chosen.settling_min === null ? "" : `, all of it ${at((one) => one.settling_min)}`}`,
    },
    {
      what: "Lost",
      text: luck === undefined ? unless(equal, (one) => one.ramp_up_loss, lostText) : lossOnLuck(luck, chosen.id),
    },
    { what: "Takes", text: takes(chosen, other, unit) },
    ...layoutMoneyAnswer(chosen.money),
    ...(more === null
      ? []
      : [{ what: "One more", text: `${oneMoreCell(more)} elements for another machine`, isMore: true }]),
    ...(chosen.tightest_belt === null || chosen.headroom_per_min === null
      ? []
      : [
          {
            what: "Tightest",
            text: `belt ${oneLine(chosen.tightest_belt)}, headroom ${rate(chosen.headroom_per_min)}`,
          },
        ]),
  ];
}

function toDo(
  { recommended }: LayoutStudy,
  chosen: LayoutResult | undefined,
  today: LayoutResult | undefined,
): "Build" | "Keep" | "Open" {
  if (chosen === undefined) return "Build";
  if (chosen.id !== recommended) return "Open";
  return isThere(chosen, today) ? "Keep" : "Build";
}

/** Beside today's figures, without their units, where any differs. */
function takes(chosen: LayoutResult, today: LayoutResult | undefined, unit: LengthUnit): string {
  const of = ({ dividers, merges, belt_m: metres, floor_m2: floor }: LayoutResult) => [
    { figure: number((dividers ?? 0) + (merges ?? 0)), what: " dividers and merges" },
    ...(metres === null ? [] : [{ figure: lengthOrDash(metres, unit), what: `\u00a0${unit} belt` }]),
    ...(floor === null ? [] : [{ figure: areaOrDash(floor, unit), what: `\u00a0${unit}² floor` }]),
  ];
  const bare = (layout: LayoutResult): string =>
    of(layout)
      .map(({ figure }) => figure)
      .join(", ");
  const own = of(chosen)
    .map(({ figure, what }) => `${figure}${what}`)
    .join(", ");
  return today === undefined || bare(today) === bare(chosen) ? own : `${own} (today ${bare(today)})`;
}

/** As the line stands, or that on belts of other lengths. */
function isThere(layout: LayoutResult, today: LayoutResult | undefined): boolean {
  return layout === today || (today?.id === TODAY && layout.id === today.layout);
}

/** What the file's lengths promise and those of the grid do not keep. */
function onGrid(chosen: LayoutResult, study: LayoutStudy): AnswerLine[] {
  const { length_unit: unit, equal_within_items: equal } = study;
  const like = buildable(study).find(({ id }) => id === chosen.layout);
  if (chosen.id !== TODAY || like === undefined) return [];
  const { ramp_up_loss: promised, belt_m: stated } = chosen;
  const { ramp_up_loss: loss, settling_min: full, belt_m: metres } = like;
  if (promised === null || loss === null || isEqual(promised, loss, equal)) return [];
  const text = `belts as short as stated, ${lengthOrDash(stated, unit)} ${unit}; with ${lengthOrDash(metres, unit)} ${unit}, as on the grid, all of it ${timeText(full)} and ${lostText(loss).replace(/(items?)$/, "$1 lost")}`;
  return [{ what: "Asks for", text }];
}

/** Of what is wanted first; what is built is no matter of luck. */
function sureToBuild({ priority }: LayoutStudy, luck: SameLuck): AnswerLine[] {
  const figure = figureOf(luck, figureWanted(priority));
  if (figure === undefined) return [];
  if (priority === "fast" || priority === "even") return sureAndMore(luck, figure);
  return [
    { what: "Sure", text: "what it takes to build, which is no matter of luck" },
    { what: "To do", text: moreOf(luck, figure) },
  ];
}

function lostText(loss: number | null): string {
  if (loss === null) return "not known";
  return Math.round(loss) < 0 ? `${items(-loss)} gained` : items(loss);
}

function timeText(minutes: number | null): string {
  return minutes === null ? "not known" : fromTime(minutes);
}

function limits(study: LayoutStudy, chosen: LayoutResult | undefined): AnswerLine[] {
  const { holdUp, dwell } = limitedIn(study);
  if (!holdUp && !dwell) return [{ what: "Limits", text: "none stated", isMore: true }];
  const keeping = buildable(study).filter(keepsLimits);
  const by =
    keeping.length === 0
      ? "kept by none"
      : `kept by ${listedShort(
          keeping.map(({ id }) => oneLine(id)),
          3,
        )}`;
  const isKept = chosen !== undefined && keepsLimits(chosen);
  return [{ what: "Limits", text: isKept ? by : `broken; ${by}`, isBad: !isKept }];
}

/** The best that gives up reserve, with the stop that it no longer bridges, and what else is not beaten. */
function others(
  { recommended, best_without_reserve: bareId }: LayoutStudy,
  all: readonly LayoutResult[],
): AnswerLine[] {
  const bare = all.find(({ id }) => id === bareId);
  const names = all.flatMap(({ id, undominated }) =>
    undominated && id !== recommended && id !== bareId ? [oneLine(id)] : [],
  );
  const rest = names.length === 0 ? "" : `${listedShort(names, 5)}: not beaten${recommended === null ? "" : " either"}`;
  if (bare === undefined) return rest === "" ? [] : [{ what: "Or", text: rest, isMore: true }];
  const { settling_min: full, bridges_less_min: less } = bare;
  const outcome = `${full === null ? "" : `all of it ${timeText(full)}, `}${lostText(bare.ramp_up_loss).replace(/(items?)$/, "$1 lost")}`;
  // Of a line that is not built yet nothing is given up; whether it is worth having is for who builds it to say.
  const need =
    less > 0 ? `the line may starve ${duration(less)} sooner when the feed stops` : "less stock in the buffers will do";
  return [
    { what: "Or", text: `${oneLine(bare.id)}, if ${need}: ${outcome}` },
    ...(rest === "" ? [] : [{ what: "Also", text: rest, isMore: true }]),
  ];
}

/** Only their names: why stands in details. */
function cannot({ layouts }: LayoutStudy): AnswerLine[] {
  const names = layouts.filter(({ feasible }) => !feasible).map(({ id }) => oneLine(id));
  if (names.length === 0) return [];
  return [
    { what: "Not", text: `${listedShort(names, 4)} cannot be built; --details and report.md say why`, isMore: true },
  ];
}
