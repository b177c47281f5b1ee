/** All pictures of every kind of report. Load this lazily: painting needs a large library. */
import type { Result } from "../../analysis/result.ts";
import type { Series } from "../../analysis/series.ts";
import type { BestStudy } from "../../study/best/best-results.ts";
import type { Fit, FitCurves } from "../../study/fit/fit-results.ts";
import type { LayoutStudy } from "../../study/layout-results.ts";
import type { ReplicationsSummary } from "../../study/replications.ts";
import type { Comparison, Growth, TacticCurve } from "../../study/results.ts";
import type { Dip, DipCurve, Shortage } from "../../study/shortage-results.ts";
import { renderPng } from "../canvas.ts";
import { winnerInBrief } from "../comparison/comparison-findings.ts";
import { recommendedInBrief } from "../layouts/layouts-findings.ts";
import { figureWanted } from "../luck/luck-figures.ts";
import { buffersPicture } from "./buffers.ts";
import { choicePicture } from "./choice.ts";
import { differencesPicture } from "./differences.ts";
import { dipPicture } from "./dip.ts";
import { fitCurvePictures } from "./fit-curves.ts";
import { profilePictures } from "./fit-profile.ts";
import { residualsPicture } from "./fit-residuals.ts";
import type { Picture } from "./frame.ts";
import { growthItemsPicture, growthTimesPicture } from "./growth.ts";
import { holdUpPicture } from "./hold-up.ts";
import { layoutsChoicePicture, layoutsOutputPicture } from "./layouts.ts";
import { meanBuffersPicture } from "./mean-buffers.ts";
import { outputPicture } from "./output.ts";
import { outputBandPicture } from "./output-band.ts";
import { placementsPicture } from "./placements.ts";
import { evennessPicture, shortageOutputPicture } from "./shortage.ts";
import { statesPicture } from "./states.ts";
import { surgesPicture } from "./surges.ts";
import { sweepPictures } from "./sweep.ts";
import { tacticsMadePicture } from "./tactics-made.ts";
import { tacticsOutputPicture } from "./tactics-output.ts";

/** @param summed of several runs; result and series are those of the median one */
export function pictures(result: Result, series: Series, summed: ReplicationsSummary | null = null): Picture[] {
  return [
    summed === null ? outputPicture(result, series) : outputBandPicture(result, summed),
    ...(result.machines.length === 0
      ? []
      : [
          summed === null ? buffersPicture(result, series) : meanBuffersPicture(result, summed),
          statesPicture(result, series),
        ]),
    holdUpPicture(result, series),
    ...(series.surges.length > 0 ? [surgesPicture(result, series)] : []),
  ];
}

export function comparisonPictures(comparison: Comparison, curves: readonly TacticCurve[]): Picture[] {
  const { replications: luck, title } = comparison;
  const brief = winnerInBrief(comparison);
  return [
    ...(luck === undefined ? [] : [differencesPicture(luck, "ramp_up_loss", { title, finding: brief })]),
    choicePicture(comparison),
    tacticsOutputPicture(comparison, curves),
    tacticsMadePicture(comparison, curves),
  ];
}

export function bestPictures(study: BestStudy, comparison: Comparison, curves: readonly TacticCurve[]): Picture[] {
  const placed = placementsPicture(study);
  return [...comparisonPictures(comparison, curves), ...(placed === null ? [] : [placed])];
}

export function growthPictures(growth: Growth): Picture[] {
  return [growthTimesPicture(growth), growthItemsPicture(growth)];
}

export function shortagePictures(shortage: Shortage): Picture[] {
  const evenness = evennessPicture(shortage);
  return [shortageOutputPicture(shortage), ...(evenness === null ? [] : [evenness])];
}

export function dipPictures(dip: Dip, curves: readonly DipCurve[]): Picture[] {
  return [dipPicture(dip, curves)];
}

export function layoutsPictures(study: LayoutStudy, curves: readonly TacticCurve[]): Picture[] {
  const { replications: luck, title, priority } = study;
  return [
    ...(luck === undefined
      ? []
      : [differencesPicture(luck, figureWanted(priority), { title, finding: recommendedInBrief(study) })]),
    layoutsChoicePicture(study),
    layoutsOutputPicture(study, curves),
  ];
}

export function fitPictures(fit: Fit, curves: FitCurves): Picture[] {
  return [...fitCurvePictures(fit, curves), residualsPicture(fit), ...profilePictures(fit)];
}

export { sweepPictures };

/** @returns a PNG */
export function paint(picture: Picture): Promise<Uint8Array> {
  return renderPng(picture.config, picture.width, picture.height);
}
