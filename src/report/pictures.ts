/** All pictures of every kind of report, by the names of their files, in their order. */
import type { Result } from "../analysis/result.ts";
import type { Series } from "../analysis/series.ts";
import type { BestStudy } from "../study/best/best-results.ts";
import type { Fit, FitCurves } from "../study/fit/fit-results.ts";
import type { LayoutStudy } from "../study/layouts/layout-results.ts";
import type { ReplicationsSummary } from "../study/replications/replications.ts";
import type { Comparison, Growth, TacticCurve } from "../study/results.ts";
import type { Dip, DipCurve, Shortage } from "../study/shortage/shortage-results.ts";
import type { Sweep } from "../study/sweep/sweep-results.ts";
import { bestInEach } from "./best/best-answer.ts";
import { placementsPicture } from "./best/placements-picture.ts";
import type { Picture } from "./chart/frame.ts";
import { choicePicture } from "./comparison/choice-picture.ts";
import { winnerInBrief } from "./comparison/comparison-findings.ts";
import { tacticsMadePicture } from "./comparison/tactics-made-picture.ts";
import { tacticsOutputPicture } from "./comparison/tactics-output-picture.ts";
import { countsPicture, levelsPicture } from "./fit/curve-pictures.ts";
import { profilePicture } from "./fit/profile-picture.ts";
import { residualsPicture } from "./fit/residuals-picture.ts";
import { growthItemsPicture, growthTimesPicture } from "./growth/growth-pictures.ts";
import { layoutsChoicePicture, layoutsDifferencesPicture, layoutsOutputPicture } from "./layouts/layouts-pictures.ts";
import { differencesPicture } from "./luck/differences-picture.ts";
import { meanBuffersPicture } from "./replications/mean-buffers-picture.ts";
import { outputBandPicture } from "./replications/output-band-picture.ts";
import { buffersPicture } from "./run/buffers-picture.ts";
import { holdUpPicture } from "./run/hold-up-picture.ts";
import { outputPicture } from "./run/output-picture.ts";
import { statesPicture } from "./run/states-picture.ts";
import { surgesPicture } from "./run/surges-picture.ts";
import { dipPicture } from "./shortage/dip-picture.ts";
import { evennessPicture, shortageOutputPicture } from "./shortage/shortage-pictures.ts";
import { LOSS, OUTPUT, SETTLING, sweepPicture } from "./sweep/sweep-pictures.ts";

/** `null` where there is nothing to show. */
type Drawings<Given extends unknown[]> = Readonly<Record<PictureFile, (...given: Given) => Picture | null>>;

export type PictureFile = `${string}.png`;

/** A picture and the file that it goes into. */
export interface FiledPicture extends Picture {
  readonly file: PictureFile;
}

function drawn<Given extends unknown[]>(drawings: Drawings<Given>, ...given: Given): FiledPicture[] {
  const isFile = (name: string): name is PictureFile => Object.hasOwn(drawings, name);
  return Object.keys(drawings)
    .filter(isFile)
    .flatMap((file) => {
      const picture = drawings[file]?.(...given) ?? null;
      return picture === null ? [] : [{ file, ...picture }];
    });
}

const RUN: Drawings<[Result, Series, ReplicationsSummary | null]> = {
  "output.png": (result, series, summed) =>
    summed === null ? outputPicture(result, series) : outputBandPicture(result, summed),
  "buffers.png": (result, series, summed) => {
    if (result.machines.length === 0) return null;
    return summed === null ? buffersPicture(result, series) : meanBuffersPicture(result, summed);
  },
  "states.png": (result, series) => (result.machines.length === 0 ? null : statesPicture(result, series)),
  "hold-up.png": holdUpPicture,
  "surges.png": (result, series) => (series.surges.length === 0 ? null : surgesPicture(result, series)),
};

/** @param summed of several runs; result and series are those of the median one */
export function pictures(result: Result, series: Series, summed: ReplicationsSummary | null = null): FiledPicture[] {
  return drawn(RUN, result, series, summed);
}

interface Compared {
  readonly comparison: Comparison;
  readonly curves: readonly TacticCurve[];
  /** Those of which curves are drawn. */
  readonly shown: Comparison;
  readonly whose: string | undefined;
}

const COMPARISON: Drawings<[Compared]> = {
  "differences.png": ({ comparison }) => {
    const { replications: luck, title } = comparison;
    if (luck === undefined) return null;
    return differencesPicture(luck, "ramp_up_loss", { title, finding: winnerInBrief(comparison) });
  },
  "choice.png": ({ comparison }) => choicePicture(comparison),
  "output.png": ({ shown, curves, whose }) => tacticsOutputPicture(shown, curves, whose),
  "missing.png": ({ shown, curves }) => (shown.settled_per_min === null ? null : tacticsMadePicture(shown, curves)),
  "made.png": ({ shown, curves }) => (shown.settled_per_min === null ? tacticsMadePicture(shown, curves) : null),
};

/** @param shown those of which curves are drawn, if not all */
export function comparisonPictures(
  comparison: Comparison,
  curves: readonly TacticCurve[],
  shown = comparison,
  whose?: string,
): FiledPicture[] {
  return drawn(COMPARISON, { comparison, curves, shown, whose });
}

const BEST: Drawings<[BestStudy]> = { "placements.png": placementsPicture };

export function bestPictures(study: BestStudy, comparison: Comparison, curves: readonly TacticCurve[]): FiledPicture[] {
  const outstanding = bestInEach(study);
  const shown = { ...comparison, tactics: comparison.tactics.filter(({ id }) => outstanding.has(id)) };
  const compared = comparisonPictures(comparison, curves, shown, "Output with the best in each figure");
  return [...compared, ...drawn(BEST, study)];
}

const GROWTH: Drawings<[Growth]> = { "growth.png": growthTimesPicture, "growth-items.png": growthItemsPicture };
export const growthPictures = (growth: Growth) => drawn(GROWTH, growth);

const SHORTAGE: Drawings<[Shortage]> = { "shortage.png": shortageOutputPicture, "evenness.png": evennessPicture };
export const shortagePictures = (shortage: Shortage) => drawn(SHORTAGE, shortage);

const DIP: Drawings<[Dip, readonly DipCurve[]]> = { "dip.png": dipPicture };
export const dipPictures = (dip: Dip, curves: readonly DipCurve[]) => drawn(DIP, dip, curves);

const LAYOUTS: Drawings<[LayoutStudy, readonly TacticCurve[]]> = {
  "differences.png": layoutsDifferencesPicture,
  "choice.png": layoutsChoicePicture,
  "output.png": layoutsOutputPicture,
};
export const layoutsPictures = (study: LayoutStudy, curves: readonly TacticCurve[]) => drawn(LAYOUTS, study, curves);

const SWEEP: Drawings<[Sweep]> = {
  "settling.png": (sweep) => sweepPicture(sweep, SETTLING),
  "loss.png": (sweep) => sweepPicture(sweep, LOSS),
  "output.png": (sweep) => sweepPicture(sweep, OUTPUT),
};
export const sweepPictures = (sweep: Sweep) => drawn(SWEEP, sweep);

const FIT: Drawings<[Fit, FitCurves]> = {
  "made.png": countsPicture,
  "levels.png": levelsPicture,
  "residuals.png": residualsPicture,
};

/** Of each unknown one more. */
export function fitPictures(fit: Fit, curves: FitCurves): FiledPicture[] {
  const profiles = fit.unknowns.map((unknown, i): FiledPicture => {
    return { file: `profile-${i + 1}.png`, ...profilePicture(fit, unknown) };
  });
  return [...drawn(FIT, fit, curves), ...profiles];
}

/** The files that pictures of each kind of report can have, but for profiles of a fit. */
export const PICTURE_FILES = {
  run: Object.keys(RUN),
  comparison: Object.keys(COMPARISON),
  best: Object.keys({ ...COMPARISON, ...BEST }),
  growth: Object.keys(GROWTH),
  shortage: Object.keys(SHORTAGE),
  dip: Object.keys(DIP),
  layouts: Object.keys(LAYOUTS),
  sweep: Object.keys(SWEEP),
  fit: Object.keys(FIT),
};

/** @returns a PNG */
export async function paint(picture: Picture): Promise<Uint8Array> {
  // Loaded only now, since the painting library takes its time.
  const { renderPng } = await import("./chart/canvas.ts");
  return renderPng(picture.config, picture.width, picture.height);
}
