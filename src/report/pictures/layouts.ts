/** Layouts side by side: output over time, and settling time against floor area. */
import type { LayoutResult, LayoutStudy } from "../../study/layout-results.ts";
import type { TacticCurve } from "../../study/results.ts";
import { duration, listedShort } from "../figures.ts";
import { buildable, commonOutput, makesNothing } from "../layouts/layout-figures.ts";
import { recommendedInBrief } from "../layouts/layouts-findings.ts";
import { oneLine } from "../text-width.ts";
import { label, type Picture } from "./frame.ts";
import { scatterPicture, withinPicture } from "./scatter.ts";
import type { Contender } from "./tactic-lines.ts";
import { outputsPicture } from "./tactics-output.ts";

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
function asOf({ today }: LayoutStudy, { id, assuming }: LayoutResult): Pick<Contender, "as"> {
  if (id === today) return { as: "baseline" };
  return assuming === null ? {} : { as: "assumed" };
}

export function layoutsChoicePicture(study: LayoutStudy): Picture {
  const known = buildable(study).flatMap((layout) => {
    const { settling_min: y, floor_m2: x } = layout;
    return y === null || x === null ? [] : [{ layout, at: { x, y } }];
  });
  const { shown, beyond } = withinPicture(known, ({ layout }) => layout.undominated || layout.id === study.today);
  const far = beyond.map(({ layout, at }) => `${oneLine(layout.id)} (${duration(at.y)})`);
  return scatterPicture({
    file: "choice.png",
    shown: "Settling time against floor area",
    scenarioTitle: study.title,
    finding: findingOf(study, far),
    x: "floor, m²",
    counts: false,
    y: "settling time, minutes",
    best: "shortest on so much floor",
    points: shown.map(({ layout, at }) => {
      const { id, undominated } = layout;
      const { as } = asOf(study, layout);
      return {
        ...{ name: label(as === "baseline" && id !== "today" ? `${id} (today)` : id), at, undominated },
        ...(as === undefined || undominated ? {} : { beside: as === "baseline" ? "today" : as }),
        rank: id === study.recommended ? 0 : undominated ? 1 : 2,
      } as const;
    }),
  });
}

function findingOf(study: LayoutStudy, far: readonly string[]): string {
  const never = buildable(study).filter((layout) => layout.settling_min === null && !makesNothing(layout));
  const parts = [recommendedInBrief(study)];
  if (far.length > 0) parts.push(`Beyond the picture: ${listedShort(far)}.`);
  if (never.length > 0) {
    const names = never.map(({ id }) => oneLine(id));
    parts.push(`Not settled within ${duration(study.horizon_min)}: ${listedShort(names)}.`);
  }
  return parts.join(" ");
}
