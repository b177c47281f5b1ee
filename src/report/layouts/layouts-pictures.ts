/** Layouts side by side: output over time, and settling time, or loss under chance, against floor area. */
import { areaIn } from "../../quantity/units.ts";
import type { LayoutResult, LayoutStudy } from "../../study/layouts/layout-results.ts";
import type { TacticCurve } from "../../study/results.ts";
import { label, type Picture } from "../chart/frame.ts";
import { scatterPicture, withinPicture } from "../chart/scatter.ts";
import type { Contender } from "../comparison/tactic-lines.ts";
import { outputsPicture } from "../comparison/tactics-output-picture.ts";
import { differencesPicture } from "../luck/differences-picture.ts";
import { figureWanted } from "../luck/luck-figures.ts";
import { capital } from "../luck/luck-findings.ts";
import { duration, items, listedShort } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";
import { buildable, commonOutput, isIf, makesNothing, TODAY } from "./layout-figures.ts";
import { recommendedInBrief } from "./layouts-findings.ts";

/** `null` where nothing is left to chance. */
export function layoutsDifferencesPicture(study: LayoutStudy): Picture | null {
  const { replications: luck, title, priority } = study;
  if (luck === undefined) return null;
  return differencesPicture(luck, figureWanted(priority), { title, finding: recommendedInBrief(study) });
}

export function layoutsOutputPicture(study: LayoutStudy, curves: readonly TacticCurve[]): Picture {
  const contest = {
    title: study.title,
    horizon_min: study.horizon_min,
    settled_per_min: commonOutput(study),
    tactics: buildable(study).map((layout) => ({ ...layout, ...asOf(study, layout), stops_at_min: null })),
  };
  return outputsPicture(contest, curves, "Output with each layout", recommendedInBrief(study));
}

/** Today's line, or one with something assumed. */
function asOf({ today }: LayoutStudy, layout: LayoutResult): Pick<Contender, "as"> {
  if (layout.id === today) return { as: "baseline" };
  return isIf(layout) ? { as: "assumed" } : {};
}

interface Measure {
  readonly name: string;
  readonly unit: string;
  readonly best: string;
  readonly of: (layout: LayoutResult) => number | null;
  readonly said: (value: number) => string;
}

const SETTLING: Measure = {
  name: "settling time",
  unit: "minutes",
  best: "shortest on so much floor",
  of: (layout) => layout.settling_min,
  said: duration,
};

/** Under chance: the loss has an interval, the time has none. */
const LOSS: Measure = {
  name: "ramp-up loss",
  unit: "items",
  best: "least on so much floor",
  of: (layout) => layout.ramp_up_loss,
  said: (lost) => `${lost < 0 ? "\u2212" : ""}${items(Math.abs(lost))}`,
};

export function layoutsChoicePicture(study: LayoutStudy): Picture {
  const measure = study.replications === undefined ? SETTLING : LOSS;
  const known = buildable(study).flatMap((layout) => {
    const [y, x] = [measure.of(layout), layout.floor_m2];
    return y === null || x === null ? [] : [{ layout, at: { x: areaIn(study.length_unit, x), y } }];
  });
  const { shown, beyond } = withinPicture(known, ({ layout }) => layout.undominated || layout.id === study.today);
  const far = beyond.map(({ layout, at }) => `${oneLine(layout.id)} (${measure.said(at.y)})`);
  return scatterPicture({
    shown: `${capital(measure.name)} against floor area`,
    scenarioTitle: study.title,
    finding: findingOf(study, far),
    x: `floor, ${study.length_unit}²`,
    counts: false,
    y: `${measure.name}, ${measure.unit}`,
    best: measure.best,
    points: shown.map(({ layout, at }) => {
      const { id, undominated } = layout;
      const { as } = asOf(study, layout);
      return {
        ...{ name: label(as === "baseline" && id !== TODAY ? `${id} (today)` : id), at, undominated },
        ...(as === undefined || undominated ? {} : { beside: as === "baseline" ? "today" : as }),
        rank: id === study.recommended ? 0 : undominated ? 1 : 2,
      } as const;
    }),
  });
}

function findingOf(study: LayoutStudy, far: readonly string[]): string {
  const never =
    study.replications === undefined
      ? buildable(study).filter((layout) => layout.settling_min === null && !makesNothing(layout))
      : [];
  const parts = [recommendedInBrief(study)];
  if (far.length > 0) parts.push(`Beyond the picture: ${listedShort(far)}.`);
  if (never.length > 0) {
    const names = never.map(({ id }) => oneLine(id));
    parts.push(`Not settled yet within ${duration(study.horizon_min)}: ${listedShort(names)}.`);
  }
  return parts.join(" ");
}
