/** What a comparison on the same luck says of each figure: who leads, whether that is told apart, and how many runs would do. */
import { median } from "../../quantity/median.ts";
import type { LuckFigure, SameLuck } from "../../study/luck/luck-results.ts";
import { nameOf } from "../comparison/baseline.ts";
import { duration, listed, listedShort, number } from "../figures.ts";
import { seenSoFar } from "../replications/stops-text.ts";
import { FIGURES, figureOf, halfWidth, others } from "./luck-figures.ts";

export interface LuckFinding {
  readonly code: "luck" | "figure" | "slower" | "no-end" | "few-stops";
  readonly text: string;
}

/**
 * "not told apart from a and b with 10 replications; if the difference is the one seen, about 45 tell nine times in ten, or they
 * may be equal"; `null` where it is told apart.
 */
export function notToldApart({ n, look }: SameLuck, figure: LuckFigure): string | null {
  const { told_apart: isTold, not_told_apart: open, about } = figure;
  if (isTold || open.length === 0) return null;
  const standing = figure.variants.filter(({ from_leader: paired }) => paired !== null).length;
  const whom = open.length > 2 && open.length === standing ? "any other" : listedShort(others(open));
  return `not told apart from ${whom} with ${number(n)} replications; ${would(figure, about, look)}`;
}

function would({ variants, not_told_apart: open }: LuckFigure, about: number | null, look: number): string {
  if (about !== null) {
    return `if the difference is the one seen, about ${aboutSo(about)} tell nine times in ten (go on with --look ${look + 1}), or they may be equal`;
  }
  const same = variants.filter(({ id, from_leader: paired }) => {
    return open.includes(id) && paired !== null && paired.mean === 0 && halfWidth(paired) === 0;
  });
  if (same.length === open.length) return "no number would do, for they do not differ in any";
  return same.length === 0
    ? "it would take more than can be named"
    : `from ${listed(others(same.map(({ id }) => id)))} it does not differ in any`;
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

export function figureText(luck: SameLuck, figure: LuckFigure): string {
  const { name, leads, said } = FIGURES[figure.figure];
  const { leader } = figure;
  const value = figure.variants.find(({ id }) => id === leader)?.value ?? null;
  if (leader === null || value === null) return `${capital(name)}: too few replications have one to compare.`;
  const open = notToldApart(luck, figure);
  const end = open === null ? "told apart from every other" : `but is ${open}`;
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
