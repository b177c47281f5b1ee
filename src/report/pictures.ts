/** All pictures of every kind of report. Load this lazily: painting needs a large library. */
import type { Result } from "../analysis/result.ts";
import type { Series } from "../analysis/series.ts";
import type { BestStudy } from "../study/best/best-results.ts";
import type { Fit, FitCurves } from "../study/fit/fit-results.ts";
import type { ReplicationsSummary } from "../study/replications/replications.ts";
import type { Comparison, TacticCurve } from "../study/results.ts";
import type { Dip, DipCurve } from "../study/shortage/shortage-results.ts";
import { bestInEach } from "./best/best-answer.ts";
import { placementsPicture } from "./best/placements-picture.ts";
import { renderPng } from "./chart/canvas.ts";
import type { Picture } from "./chart/frame.ts";
import { choicePicture } from "./comparison/choice-picture.ts";
import { winnerInBrief } from "./comparison/comparison-findings.ts";
import { tacticsMadePicture } from "./comparison/tactics-made-picture.ts";
import { tacticsOutputPicture } from "./comparison/tactics-output-picture.ts";
import { fitCurvePictures } from "./fit/curve-pictures.ts";
import { profilePictures } from "./fit/profile-pictures.ts";
import { residualsPicture } from "./fit/residuals-picture.ts";
import { growthPictures } from "./growth/growth-pictures.ts";
import { layoutsPictures } from "./layouts/layouts-pictures.ts";
import { differencesPicture } from "./luck/differences-picture.ts";
import { meanBuffersPicture } from "./replications/mean-buffers-picture.ts";
import { outputBandPicture } from "./replications/output-band-picture.ts";
import { buffersPicture } from "./run/buffers-picture.ts";
import { holdUpPicture } from "./run/hold-up-picture.ts";
import { outputPicture } from "./run/output-picture.ts";
import { statesPicture } from "./run/states-picture.ts";
import { surgesPicture } from "./run/surges-picture.ts";
import { dipPicture } from "./shortage/dip-picture.ts";
import { shortagePictures } from "./shortage/shortage-pictures.ts";
import { sweepPictures } from "./sweep/sweep-pictures.ts";

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

/** @param drawn those of which curves are drawn, if not all */
export function comparisonPictures(
  comparison: Comparison,
  curves: readonly TacticCurve[],
  drawn = comparison,
  whose?: string,
): Picture[] {
  const { replications: luck, title } = comparison;
  const brief = winnerInBrief(comparison);
  return [
    ...(luck === undefined ? [] : [differencesPicture(luck, "ramp_up_loss", { title, finding: brief })]),
    choicePicture(comparison),
    tacticsOutputPicture(drawn, curves, whose),
    tacticsMadePicture(drawn, curves),
  ];
}

export function bestPictures(study: BestStudy, comparison: Comparison, curves: readonly TacticCurve[]): Picture[] {
  const placed = placementsPicture(study);
  const outstanding = bestInEach(study);
  const drawn = { ...comparison, tactics: comparison.tactics.filter(({ id }) => outstanding.has(id)) };
  const compared = comparisonPictures(comparison, curves, drawn, "Output with the best in each figure");
  return [...compared, ...(placed === null ? [] : [placed])];
}

export function dipPictures(dip: Dip, curves: readonly DipCurve[]): Picture[] {
  return [dipPicture(dip, curves)];
}

export function fitPictures(fit: Fit, curves: FitCurves): Picture[] {
  return [...fitCurvePictures(fit, curves), residualsPicture(fit), ...profilePictures(fit)];
}

export { growthPictures, layoutsPictures, shortagePictures, sweepPictures };

/** @returns a PNG */
export function paint(picture: Picture): Promise<Uint8Array> {
  return renderPng(picture.config, picture.width, picture.height);
}
