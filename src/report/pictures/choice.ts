/** Settling time, and ramp-up loss, against items handled, a point a tactic: what is to be had for so much handling. */
import type { Comparison, TacticResult } from "../../study/results.ts";
import { BASELINE, givenMin, makesNothing } from "../comparison/baseline.ts";
import { winnerInBrief } from "../comparison/comparison-findings.ts";
import { duration, items, listedShort, plain } from "../figures.ts";
import { oneLine } from "../text-width.ts";
import { label, type Picture, type Point } from "./frame.ts";
import { scatterPicture, withinPicture } from "./scatter.ts";
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

export function choicePictures(comparison: Comparison): Picture[] {
  // Under chance the loss decides.
  const measures = comparison.replications === undefined ? [SETTLING, LOSS] : [LOSS];
  return measures.map((measure) => choicePicture(comparison, measure));
}

function choicePicture(comparison: Comparison, measure: Measure): Picture {
  const known = comparison.tactics.flatMap((tactic): Entry[] => {
    const y = measure.of(tactic);
    return y === null ? [] : [{ tactic, at: { x: tactic.items_handled, y } }];
  });
  const { shown, beyond } = withinPicture(known, ({ tactic }) => stands(tactic));
  return scatterPicture({
    file: measure.file,
    shown: measure.shown,
    scenarioTitle: comparison.title,
    finding: findingOf(comparison, measure, beyond),
    x: "items handled",
    counts: true,
    y: measure.axis,
    best: measure.best,
    points: shown.map(({ tactic: { id, undominated }, at }) => ({
      name: label(id === BASELINE ? `${BASELINE}\u00a0(as\u00a0it\u00a0is)` : id),
      at,
      undominated,
      rank: id === comparison.winner ? 0 : undominated ? 1 : 2,
    })),
  });
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
  if (never.length > 0) parts.push(`Not settled yet within ${duration(givenMin(comparison))}: ${listedShort(never)}.`);
  return plain(parts.join(" "));
}
