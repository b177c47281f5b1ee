/** What a comparison on the same luck says of each figure: who leads, whether that is told apart, and how many runs would do. */
import type { LuckFigure, SameLuck } from "../../study/luck-results.ts";
import { seenSoFar, stopsWanted } from "../replications/stops-text.ts";
import { nameOf } from "../text/baseline.ts";
import { duration, listed, listedShort, number } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";
import { FIGURES, figureOf, halfWidth, others } from "./luck-figures.ts";

export interface LuckFinding {
  readonly code: "luck" | "figure" | "slower" | "no-end" | "few-stops";
  readonly text: string;
}

/** "not told apart from a and b with 10 replications"; `null` where it is told apart. */
export function notToldApart(
  { n }: SameLuck,
  { told_apart: isTold, not_told_apart: open, variants }: LuckFigure,
): string | null {
  if (isTold || open.length === 0) return null;
  const standing = variants.filter(({ from_leader: paired }) => paired !== null).length;
  const whom = open.length > 2 && open.length === standing ? "any other" : listedShort(others(open));
  return `not told apart from ${whom} with ${number(n)} replications`;
}

/** What is sure of who leads, but for one study in twenty; without a full stop. */
export function sureOf(luck: SameLuck, figure: LuckFigure): string {
  const { leads, beats, ahead, cell } = FIGURES[figure.figure];
  const { leader, not_told_apart: open } = figure;
  const behind = figure.variants
    .flatMap(({ id, from_leader: paired }) => (paired === null ? [] : [{ id, paired }]))
    .toSorted((a, b) => Math.abs(a.paired.mean) - Math.abs(b.paired.mean));
  const [next] = behind;
  if (leader === null || next === undefined) return "nothing: there are not two to compare";
  if (notToldApart(luck, figure) === null) {
    const ends = next.paired.interval.map(Math.abs).toSorted((a, b) => a - b);
    const [least = "", most = ""] = ends.map(cell);
    return `${nameOf(oneLine(leader))} ${ahead(least, most)} ${nameOf(oneLine(next.id))}, the next`;
  }
  const told = behind.filter(({ id }) => !open.includes(id)).map(({ id }) => id);
  return told.length === 0
    ? `nothing yet of which ${leads}`
    : `only that ${nameOf(oneLine(leader))} ${beats} ${listedShort(others(told))}`;
}

/** What to do for more; without a full stop. */
export function moreOf(luck: SameLuck, figure: LuckFigure): string {
  const { n, stops, without_end: without } = luck;
  const longer =
    without.length === 0 ? "" : "first a longer horizon (--horizon), so that the ramp-up is seen to end; then ";
  if (notToldApart(luck, figure) !== null) return `${longer}${would(luck, figure)}`;
  const rare = stopsWanted(stops, n);
  const halved = `about ${number(4 * n)} replications for differences half as wide`;
  return `${longer}${rare === null ? halved : `for intervals of the means, too: ${rare}`}`;
}

function would({ look }: SameLuck, { variants, not_told_apart: open, about }: LuckFigure): string {
  if (about !== null) {
    return `about ${aboutSo(about)} replications (--look ${look + 1}) tell a lead like this 9 times in 10`;
  }
  const same = variants.filter(({ id, from_leader: paired }) => {
    return open.includes(id) && paired !== null && paired.mean === 0 && halfWidth(paired) === 0;
  });
  if (same.length === open.length) return "no number of replications tells, for they do not differ in any";
  return same.length === 0
    ? "it would take more replications than can be named"
    : `no number of replications tells it from ${listed(others(same.map(({ id }) => id)))}, for they do not differ in any`;
}

/** An estimate from a few runs has no more than two digits. */
export function aboutSo(replications: number): string {
  return number(Number(replications.toPrecision(2)));
}

/** One sentence for each figure but those that are told elsewhere. */
export function figureFindings(luck: SameLuck, except: readonly LuckFigure["figure"][]): LuckFinding[] {
  return luck.figures
    .filter(({ figure }) => !except.includes(figure))
    .map((figure): LuckFinding => ({ code: "figure", text: figureText(luck, figure) }));
}

function figureText(luck: SameLuck, figure: LuckFigure): string {
  const { name, leads, said } = FIGURES[figure.figure];
  const { leader } = figure;
  const value = figure.variants.find(({ id }) => id === leader)?.value ?? null;
  if (leader === null || value === null) return `${capital(name)}: too few replications have one to compare.`;
  const open = notToldApart(luck, figure);
  const end = open === null ? "told apart from every other" : `but is ${open}; ${would(luck, figure)}`;
  return `${capital(name)}: ${nameOf(leader)} ${leads}, ${said(value.mean)}, ${end}.`;
}

/** Differences on the same luck hardly hang on how many stops there were; means do. */
function seldom({ stops, n }: SameLuck): LuckFinding[] {
  if (stops.every(({ enough }) => enough)) return [];
  const text = `${capital(seenSoFar(stops, n))}: means have no interval before fifty, and differences are those without many such stops.`;
  return [{ code: "few-stops", text }];
}

export function capital(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}

/** What was played, what figures are, and how much the same luck is worth. */
export function luckFindings(luck: SameLuck, what: string): LuckFinding[] {
  const { n, counted_from_min: from, slower_for_good: slower, without_end: without } = luck;
  const loss = figureOf(luck, "ramp_up_loss");
  const gains = loss?.variants.flatMap(({ from_leader: paired }) => paired?.gain ?? []) ?? [];
  const gain = gains.length === 0 ? null : median(gains);
  const worth =
    gain === null || gain < 1.05
      ? ""
      : ` For differences of loss that is worth about ${number(gain, gain < 10 ? 1 : 0)} times as many runs on separate luck.`;
  return [
    ...(slower.length === 0
      ? []
      : [
          {
            code: "slower" as const,
            text: `Slower for good, told by their settled output: ${listed(others(slower))}.`,
          },
        ]),
    {
      code: "luck",
      text: `Chance plays a part: figures are means over ${number(n)} replications of each ${what}, all on the same luck, with losses counted up to ${duration(from)} and settled figures from then on.${worth}`,
    },
    ...seldom(luck),
    ...(without.length === 0
      ? []
      : [
          {
            code: "no-end" as const,
            text: `No end of the ramp-up is found with ${listedShort(others(without))}, so that settled figures may still be moving; a longer horizon would tell.`,
          },
        ]),
  ];
}

/** The middle one, or the mean of the middle two. @throws RangeError without values */
export function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const upper = sorted[Math.floor(sorted.length / 2)];
  const lower = sorted[Math.floor((sorted.length - 1) / 2)];
  if (upper === undefined || lower === undefined) throw new RangeError("no values");
  return (lower + upper) / 2;
}
