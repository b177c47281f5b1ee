/** Which lines of those played side by side stand out and how, and how much of the time their pictures show. */
import type { Comparison, TacticCurve, TacticResult } from "../../study/results.ts";
import type { PictureDataset, Point } from "../chart/frame.ts";
import { INK, LINE_STYLES, type LineStyle, styleOf } from "../chart/palette.ts";
import { roundUp, type TimeAxis } from "../chart/time-axis.ts";
import { BASELINE } from "../text/baseline.ts";
import { duration, plain } from "../text/figures.ts";

/** A tactic, or whatever else is played beside others. */
export interface Contender extends Pick<TacticResult, "id" | "undominated" | "settling_min" | "stops_at_min"> {
  /** What stands today, under whichever name; or what is shown and not weighed. */
  readonly as?: "baseline" | "assumed";
}

/** A comparison, as far as pictures of curves need it. */
export interface Contest<T extends Contender = Contender>
  extends Pick<Comparison, "title" | "horizon_min" | "settled_per_min"> {
  readonly tactics: readonly T[];
  /** What is worth doing stands out, too, though something else may beat it. */
  readonly winner?: string | null;
}

export interface TacticLine<T extends Contender = Contender> {
  readonly tactic: T;
  readonly curve: TacticCurve;
  /** Not beaten, the baseline or the winner. */
  readonly stands: boolean;
  readonly style: LineStyle;
}

const GREY: LineStyle = { colour: "#a3a3a3", dash: [], marker: "circle" };
const BASELINE_STYLE: LineStyle = { colour: INK, dash: [], marker: "rectRot" };
const ASSUMED_STYLE: LineStyle = { colour: "#8a8a8a", dash: [3, 5], marker: "triangle" };
/** Black is the baseline's, grey that of the beaten. */
const STYLES = LINE_STYLES.filter(({ marker, colour }) => marker !== "rectRot" && colour !== "#7a7a7a");

/** Whether a picture has to have room for it; others may reach beyond. */
export function stands(one: Contender): boolean {
  return one.undominated || isBaseline(one);
}

export function isBaseline({ id, as }: Contender): boolean {
  return id === BASELINE || as === "baseline";
}

/** Those that stand out first; each has its style whichever of the curves are there. */
export function tacticLines<T extends Contender>(
  { tactics, winner = null }: Contest<T>,
  curves: readonly TacticCurve[],
): TacticLine<T>[] {
  const lines: TacticLine<T>[] = [];
  let used = 0;
  for (const tactic of tactics) {
    let style = tactic.as === "assumed" ? ASSUMED_STYLE : GREY;
    const isShown = stands(tactic) || tactic.id === winner;
    if (isBaseline(tactic)) style = BASELINE_STYLE;
    else if (isShown) style = styleOf(STYLES, used++);
    const curve = curves.find(({ id }) => id === tactic.id);
    if (curve !== undefined && curve.timesMin.length > 0) lines.push({ tactic, curve, stands: isShown, style });
  }
  return lines.toSorted((a, b) => Number(b.stands) - Number(a.stands));
}

export function lineDataset({ tactic, stands, style }: TacticLine, data: Point[]): PictureDataset {
  return {
    label: tactic.id,
    data,
    borderColor: style.colour,
    borderDash: [...style.dash],
    borderWidth: stands ? 3.5 : 1.75,
    pointRadius: 0,
  };
}

/** Beyond this many times the baseline's settling time nothing is shown. */
const MOST_OF_BASELINE = 2;

/** A good part beyond the last settling time of those that stand out, unless that is far off. */
export function comparisonTime(comparison: Contest, curves: readonly TacticCurve[]): TimeAxis {
  const last = Math.max(1e-3, ...curves.map(({ timesMin }) => timesMin.at(-1) ?? 0));
  const times = comparison.tactics.filter(stands).map(({ settling_min: at, stops_at_min: stop }) => at ?? stop ?? 0);
  const base = comparison.tactics.find(isBaseline)?.settling_min ?? null;
  const longest = Math.min(Math.max(0, ...times), base === null ? Infinity : MOST_OF_BASELINE * base);
  const endMin = longest > 0 ? Math.min(last, roundUp(1.1 * longest)) : last;
  const inHours = endMin > 300;
  const unit = inHours ? "hours" : "minutes";
  const scale = inHours ? 1 / 60 : 1;
  const cut = endMin < comparison.horizon_min ? ` (the horizon is ${plain(duration(comparison.horizon_min))})` : "";
  return { title: `${unit}${cut}`, scale, endMin, end: endMin * scale };
}

/** How many of the samples the axis shows, and the one that reaches beyond it. */
export function shownSamples({ timesMin }: TacticCurve, { endMin }: TimeAxis): number {
  const beyond = timesMin.findIndex((time) => time >= endMin);
  return beyond < 0 ? timesMin.length : beyond + 1;
}
