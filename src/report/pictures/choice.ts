/** Settling time, and ramp-up loss, against items handled, a point a tactic: what is to be had for so much handling. */
import type { Comparison, TacticResult } from "../../study/results.ts";
import { BASELINE, makesNothing } from "../comparison/baseline.ts";
import { winnerInBrief } from "../comparison/comparison-findings.ts";
import { duration, items, listedShort, plain } from "../figures.ts";
import { pixels } from "../font.ts";
import { ACCENT, INK, INK_SOFT, PAPER } from "../palette.ts";
import { oneLine, wrapAtMost } from "../text-width.ts";
import {
  acrossAxis,
  label,
  type Picture,
  type PictureDataset,
  type Point,
  picture,
  TEXT_SIZE,
  valueAxis,
} from "./frame.ts";
import { key } from "./key.ts";
import { POINT_RADIUS, type PointLabel, pointLabels } from "./point-labels.ts";
import { stands } from "./tactic-lines.ts";

/** What is had for the handling; the less the better. */
interface Measure {
  readonly file: string;
  readonly shown: string;
  readonly axis: string;
  /** Of the line along the best. */
  readonly best: string;
  readonly of: (tactic: TacticResult) => number | null;
  readonly text: (value: number) => string;
}

const SETTLING: Measure = {
  file: "choice.png",
  shown: "Settling time against items handled",
  axis: "settling time, minutes",
  best: "shortest for so much handling",
  of: (tactic) => tactic.settling_min,
  text: duration,
};

const LOSS: Measure = {
  file: "choice-loss.png",
  shown: "Ramp-up loss against items handled",
  axis: "ramp-up loss, items",
  best: "least for so much handling",
  of: (tactic) => tactic.ramp_up_loss,
  text: items,
};

/** A tactic for which the measure is known. */
interface Entry {
  readonly tactic: TacticResult;
  readonly at: Point;
}

const FRONT = { colour: ACCENT, width: 2.5, dash: [9, 6] };
/** One that is beaten by far would press the others together. */
const ROOM_FOR_BEATEN = 1.4;

/** Points that near, as a share of the axis, are on one another. */
const NEAR = 0.01;
/** Of a label that several points share, pixels and lines. */
const HEAP_WIDTH = 330;
const HEAP_LINES = 4;

export function choicePictures(comparison: Comparison): Picture[] {
  return [choicePicture(comparison, SETTLING), choicePicture(comparison, LOSS)];
}

function choicePicture(comparison: Comparison, measure: Measure): Picture {
  const known = comparison.tactics.flatMap((tactic): Entry[] => {
    const y = measure.of(tactic);
    return y === null ? [] : [{ tactic, at: { x: tactic.items_handled, y } }];
  });
  const standing = known.filter(({ tactic }) => stands(tactic)).map(({ at }) => at.y);
  const limit = standing.length === 0 ? Infinity : ROOM_FOR_BEATEN * Math.max(0, ...standing);
  const shown = known.filter(({ at }) => at.y <= limit);
  const beyond = known.filter(({ at }) => at.y > limit);
  const most = Math.max(10, ...shown.map(({ at }) => at.x)) * 1.04;
  const values = shown.map(({ at }) => at.y);
  const front = frontOf(shown, most);
  return picture({
    file: measure.file,
    shown: measure.shown,
    scenarioTitle: comparison.title,
    finding: findingOf(comparison, measure, beyond),
    plotHeight: 520,
    x: acrossAxis("items handled", most, -0.03 * most, true),
    y: valueAxis(measure.axis, Math.max(0.1, ...values) * 1.12, Math.min(0, ...values) * 1.12),
    datasets: [
      points(shown, true),
      points(shown, false),
      {
        label: "best",
        data: front,
        borderColor: FRONT.colour,
        borderWidth: FRONT.width,
        borderDash: FRONT.dash,
        pointRadius: 0,
      },
    ],
    plugins: [
      pointLabels(labelsOf(shown, comparison.winner), [front]),
      key([
        { kind: "dot", text: "not beaten by another", colour: ACCENT },
        { kind: "dot", text: "beaten" },
        { kind: "line", text: measure.best, ...FRONT },
      ]),
    ],
    right: 24,
    withKey: true,
  });
}

function points(shown: readonly Entry[], undominated: boolean): PictureDataset {
  return {
    label: undominated ? "not beaten" : "beaten",
    data: shown.filter(({ tactic }) => tactic.undominated === undominated).map(({ at }) => at),
    showLine: false,
    pointRadius: undominated ? POINT_RADIUS : POINT_RADIUS - 2,
    pointBackgroundColor: undominated ? ACCENT : PAPER,
    pointBorderColor: undominated ? ACCENT : INK_SOFT,
    pointBorderWidth: 2.5,
    clip: false,
  };
}

/** Of the winner and those not beaten first, which have the first choice of places; points on one another share one. */
function labelsOf(shown: readonly Entry[], winner: string | null): PointLabel[] {
  const rank = ({ tactic }: Entry): number => (tactic.id === winner ? 0 : tactic.undominated ? 1 : 2);
  const sorted = shown.toSorted((a, b) => rank(a) - rank(b) || b.at.y - a.at.y);
  return heaps(sorted).map(([first, ...others]) => {
    const names = [first, ...others].map(({ tactic }) =>
      label(tactic.id === BASELINE ? `${BASELINE}\u00a0(as\u00a0it\u00a0is)` : tactic.id),
    );
    return {
      lines: wrapAtMost(names.join(", "), HEAP_WIDTH, HEAP_LINES, pixels(TEXT_SIZE)),
      bold: first.tactic.undominated,
      ink: first.tactic.undominated ? INK : INK_SOFT,
      colour: INK_SOFT,
      line: [first.at],
      style: null,
    };
  });
}

type Heap = [Entry, ...Entry[]];

/** Entries so near to one another that their points all but cover each other, alike in whether they are beaten. */
function heaps(sorted: readonly Entry[]): Heap[] {
  const span = (of: (entry: Entry) => number): number => Math.max(1e-9, ...sorted.map(of));
  const [acrossX, acrossY] = [span(({ at }) => at.x), span(({ at }) => at.y)];
  const found: Heap[] = [];
  for (const entry of sorted) {
    const heap = found.find(
      ([first]) =>
        first.tactic.undominated === entry.tactic.undominated &&
        Math.abs(first.at.x - entry.at.x) < NEAR * acrossX &&
        Math.abs(first.at.y - entry.at.y) < NEAR * acrossY,
    );
    if (heap === undefined) found.push([entry]);
    else heap.push(entry);
  }
  return found;
}

/** Steps down from the best without handling, as more handling buys more. */
function frontOf(shown: readonly Entry[], end: number): Point[] {
  const front: Point[] = [];
  let best = Infinity;
  for (const { x, y } of shown.map(({ at }) => at).toSorted((a, b) => a.x - b.x || a.y - b.y)) {
    if (y >= best) continue;
    if (front.length > 0) front.push({ x, y: best });
    best = y;
    front.push({ x, y });
  }
  if (front.length > 0) front.push({ x: end, y: best });
  return front;
}

function findingOf(comparison: Comparison, measure: Measure, beyond: readonly Entry[]): string {
  const unknown = comparison.tactics.filter((tactic) => measure.of(tactic) === null);
  const never = unknown.filter((tactic) => !makesNothing(tactic)).map(({ id }) => oneLine(id));
  const still = unknown.filter(makesNothing).map(({ id }) => oneLine(id));
  const parts = [winnerInBrief(comparison)];
  if (beyond.length > 0) {
    const names = beyond.map(({ tactic, at }) => `${oneLine(tactic.id)} (${measure.text(at.y)})`);
    parts.push(`Beyond the picture: ${listedShort(names)}.`);
  }
  if (still.length > 0 && comparison.winner !== null) parts.push(`At a standstill: ${listedShort(still, 2)}.`);
  if (never.length > 0) parts.push(`Not settled within ${duration(comparison.horizon_min)}: ${listedShort(never)}.`);
  return plain(parts.join(" "));
}
