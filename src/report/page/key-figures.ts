/** The figures that an answer is known and compared by. */

import type { Result } from "../../analysis/result.ts";
import { tightestBelts } from "../../quantity/tightest.ts";
import { approximately, duration, fromStart, items, longRun, number, percent, rate } from "../text/figures.ts";
import { type Element, h } from "./markup.ts";

export interface Figure {
  readonly name: string;
  readonly value: string;
  readonly beside: string;
}

export function keyFigures(result: Result): Figure[] {
  const { settling, output, hold_up: holdUp } = result;
  const made = longRun(output);
  const at = (minutes: number | null): string =>
    minutes === null ? "not yet" : duration(fromStart(settling, minutes));
  const lossMin = output.ramp_up_loss_min;
  return [
    { name: "95 % of the output", value: at(settling.to_95_min), beside: "from the start" },
    {
      name: "Full output",
      value: at(settling.time_min),
      beside: settling.full_share < 1 ? percent(settling.full_share) : "all of it, for good",
    },
    {
      name: "Ramp-up loss",
      value: output.ramp_up_loss === null ? "not known" : items(output.ramp_up_loss),
      beside: lossMin === null ? "" : `${duration(lossMin)} of output`,
    },
    {
      name: "Output in the long run",
      value: made === null ? "not known" : rate(made),
      beside: `of ${rate(approximately(output.full_per_min))} if no machine waited`,
    },
    { name: "Most on the line", value: items(holdUp.peak), beside: `at ${duration(holdUp.peak_at_min)}` },
    { name: "Tightest belt", ...tightestOf(result) },
    { name: "Limits", ...limitsOf(result) },
  ];
}

function limitsOf({ limits, hold_up, dwell }: Result): Pick<Figure, "value" | "beside"> {
  if (limits.length === 0) return { value: "none", beside: "the file states none" };
  if (hold_up.over_limit_min === 0 && dwell.over_limit_items === 0) return { value: "kept", beside: "all of them" };
  const over = [
    ...(hold_up.over_limit_min > 0 ? [`hold-up for ${duration(hold_up.over_limit_min)}`] : []),
    ...(dwell.over_limit_items > 0 ? [`dwell by ${items(dwell.over_limit_items)}`] : []),
  ];
  return { value: "exceeded", beside: over.join(", ") };
}

function tightestOf(result: Result): Pick<Figure, "value" | "beside"> {
  const [tight] = tightestBelts(result.belts, result.cuts);
  const carries = tight === undefined ? null : longRun(tight.belt);
  if (tight === undefined || carries === null) return { value: "none is known", beside: "" };
  const could = carries + tight.headroomPerMin;
  const share = could > 0 ? carries / could : 0;
  return { value: percent(share), beside: `${tight.belt.id}: ${number(carries, 1)} of ${rate(could)}` };
}

/** @param before of another answer, told where they differ */
export function figures(own: readonly Figure[], before: readonly Figure[] = []): Element {
  return h(
    "dl",
    { class: "figures" },
    ...own.map(({ name, value, beside }) => {
      const was = before.find((one) => one.name === name);
      const changed = was !== undefined && (was.value !== value || was.beside !== beside);
      const old = changed ? [h("dd", { class: "was" }, `was ${was.value}`)] : [];
      return h(
        "div",
        {},
        h("dt", {}, name),
        h("dd", { class: "value" }, value),
        h("dd", { class: "beside" }, beside),
        ...old,
      );
    }),
  );
}
