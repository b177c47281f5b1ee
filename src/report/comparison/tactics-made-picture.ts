/**
 * What each tactic is behind the ideal line, which makes the settled output from the first moment. Products made since
 * the start would be lines that hardly part; what is missing from the ideal is their distance from it, the loss so far.
 */
import type { Comparison, TacticCurve, TacticResult } from "../../study/results.ts";
import { type EndLabel, endLabelRoom, endLabels } from "../chart/end-labels.ts";
import { label, type Picture, type Point, picture, valueAxis } from "../chart/frame.ts";
import { key } from "../chart/key.ts";
import { INK } from "../chart/palette.ts";
import { columns, lastLevels } from "../chart/resample.ts";
import type { TimeAxis } from "../chart/time-axis.ts";
import { BASELINE, baselineOf } from "../text/baseline.ts";
import { items, number, plain, rate } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";
import { winnerInBrief } from "./comparison-findings.ts";
import { standstillSentence } from "./stopped-findings.ts";
import { comparisonTime, lineDataset, shownSamples, type TacticLine, tacticLines } from "./tactic-lines.ts";
import { keyEntries, labelled } from "./tactics-output-picture.ts";

const MOST_POINTS = 300;
const ROOM_FOR_BEATEN = 1.4;
const IDEAL = { colour: INK, width: 1.5, dash: [10, 6] };

/** Where the line has no settled output there is no ideal; then the products made are shown. */
export function tacticsMadePicture(comparison: Comparison, curves: readonly TacticCurve[]): Picture {
  const time = comparisonTime(comparison, curves);
  // A standstill is no ideal.
  const settled = comparison.settled_per_min || null;
  const lines = tacticLines(comparison, curves).map((line) => ({ line, points: points(line, settled, time) }));
  const values = lines.flatMap((line) => line.points.map(({ y }) => y));
  const standing = lines.filter(({ line }) => line.stands).flatMap((line) => line.points.map(({ y }) => y));
  // One that is beaten by far would press the others together.
  const most = Math.min(Math.max(1, ...values) * 1.06, Math.max(1, ...standing) * ROOM_FOR_BEATEN);
  const least = Math.min(0, ...standing) * 1.06;
  const labels = labelled(lines)
    .map(({ line, points: own }) => endLabel(line, own.at(-1)?.y ?? 0, comparison.winner))
    .toSorted((a, b) => b.value - a.value);
  const ideal = settled === null ? "" : `the ideal line, ${plain(rate(settled))} from the first moment`;
  return picture({
    shown: settled === null ? "Products made" : "Products missing to the ideal line: the loss so far",
    scenarioTitle: comparison.title,
    finding: findingOf(comparison),
    plotHeight: 560,
    time,
    y: valueAxis(settled === null ? "made, items" : "missing to the ideal line, items", most, least),
    datasets: [
      ...lines.map(({ line, points: own }) => lineDataset(line, own)),
      ...(settled === null
        ? []
        : [
            {
              label: "ideal",
              data: [
                { x: 0, y: 0 },
                { x: time.end, y: 0 },
              ],
              borderColor: IDEAL.colour,
              borderWidth: IDEAL.width,
              borderDash: IDEAL.dash,
              pointRadius: 0,
            },
          ]),
    ],
    plugins: [
      endLabels(labels),
      ...(settled === null
        ? []
        : [
            key([
              { kind: "line", text: ideal, ...IDEAL },
              ...keyEntries(
                lines.map(({ line }) => line),
                false,
              ),
            ]),
          ]),
    ],
    right: endLabelRoom(labels),
    withKey: settled !== null,
  });
}

function points({ curve }: TacticLine, settled: number | null, time: TimeAxis): Point[] {
  const shown = shownSamples(curve, time);
  const cut = columns(curve.timesMin.slice(0, shown), MOST_POINTS);
  const made = lastLevels(curve.made.slice(0, shown), cut);
  const found: Point[] = [{ x: 0, y: 0 }];
  for (const [i, count] of made.entries()) {
    const at = cut.edges[i + 1] ?? 0;
    found.push({ x: at * time.scale, y: settled === null ? count : settled * at - count });
  }
  return found;
}

/** With the loss that tables have; a sample differs from it by what the settled output swings. */
function endLabel({ tactic, style }: TacticLine<TacticResult>, value: number, winner: string | null): EndLabel {
  const loss = tactic.ramp_up_loss;
  const name = tactic.id === BASELINE ? `${BASELINE} (as it is)` : tactic.id;
  return {
    text: `${label(name)} ${plain(number(loss ?? value))}`,
    value,
    colour: style.colour,
    style,
    bold: tactic.id === winner,
  };
}

function findingOf(comparison: Comparison): string {
  if (comparison.replications !== undefined) return winnerInBrief(comparison);
  if (comparison.winner === null) return standstillSentence(comparison);
  const won = comparison.tactics.find(({ id }) => id === comparison.winner);
  const lost = won?.ramp_up_loss ?? null;
  const base = baselineOf(comparison)?.ramp_up_loss ?? null;
  if (won === undefined || lost === null) return "The winner's loss is not known, since it does not settle.";
  const who = won.id === BASELINE ? "As it is, the line" : oneLine(won.id);
  const instead = base === null || won.id === BASELINE ? "" : `, instead of ${number(base)} without a tactic`;
  return plain(`${who} ${lost < 0 ? `gains ${items(-lost)}` : `loses ${items(lost)}`} up to settling${instead}.`);
}
