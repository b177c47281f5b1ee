/** What a study of layouts says of what can be built: which cannot and why, what would make them possible, and how long belts are. */
import type { LayoutStudy } from "../../study/layouts/layout-results.ts";
import { duration, items, listed } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";
import { buildable, isIf } from "./layout-figures.ts";
import type { LayoutFinding } from "./layout-finding.ts";
import { assumingText, reasonText } from "./layout-words.ts";

export function infeasible({ layouts }: LayoutStudy): LayoutFinding[] {
  return layouts
    .filter(({ feasible }) => !feasible)
    .map(({ id, reason }) => ({
      code: "infeasible",
      text:
        reason === null
          ? `${oneLine(id)} cannot be built.`
          : `${oneLine(id)} cannot be built: ${sentence(reasonText(reason))}`,
    }));
}

/** What those that cannot be built would do, with the least change that makes them possible. */
export function possibleIf(study: LayoutStudy): LayoutFinding[] {
  return buildable(study).flatMap((layout): LayoutFinding[] => {
    const { id, assuming, settling_min: at, ramp_up_loss: loss } = layout;
    if (assuming === null || !isIf(layout)) return [];
    const does = [
      at === null ? `does not settle within ${duration(study.horizon_min)}` : `settles at ${duration(at)}`,
      ...(loss === null ? [] : [`loses ${items(loss)}`]),
    ];
    return [
      { code: "if", text: `${oneLine(id.replace(/-if$/, ""))} ${listed(does)} ${oneLine(assumingText(assuming))}.` },
    ];
  });
}

/** How long belts are, and of which layouts that is not known. */
export function lengths({ layouts, lengths: how }: LayoutStudy): LayoutFinding[] {
  if (how === "as-stated") {
    return [
      {
        code: "lengths",
        text: "All belts are as long as the file states one (lengths: as-stated), however far apart their ends would stand.",
      },
    ];
  }
  const not = layouts.filter(({ feasible, to_scale: toScale, assuming }) => feasible && !toScale && assuming === null);
  const names = not.map(({ id }) => oneLine(id));
  const text = "Belts are as long as their way on the grid, and at least as stated";
  if (names.length === 0) return [{ code: "lengths", text: `${text}.` }];
  return [
    { code: "lengths", text: `${text}; not to scale, for belts that are not stated in metres: ${listed(names)}.` },
  ];
}

/** With a full stop at its end. */
export function sentence(text: string): string {
  const line = oneLine(text);
  return line === "" || /[.!?]$/.test(line) ? line : `${line}.`;
}
