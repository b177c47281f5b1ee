/** What a growth study says, in a few plain sentences, each with a code. */
import type { Growth, GrowthStep } from "../../study/results.ts";
import { brokenText } from "../comparison/outcome-words.ts";
import { approximately, duration, items, listedShort, longRun, number, rate } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";

export type GrowthFindingCode =
  | "worth"
  | "limits"
  | "too-small"
  | "settling"
  | "tolerance"
  | "items"
  | "short"
  | "stopped"
  | "unsettled"
  | "unproved";

export interface GrowthFinding {
  readonly code: GrowthFindingCode;
  readonly text: string;
}

export function growthFindings(growth: Growth): GrowthFinding[] {
  return [
    ...worth(growth),
    ...limits(growth.sizes),
    ...tooSmall(growth),
    ...settling(growth.sizes),
    ...tolerance(growth.sizes),
    ...itemsFound(growth.sizes),
    ...short(growth.sizes),
    ...stopped(growth.sizes),
    ...unsettled(growth.sizes),
    ...unproved(growth.sizes),
  ];
}

export function machines(count: number): string {
  return `${number(count)}\u00a0${count === 1 ? "machine" : "machines"}`;
}

/** By the rule for starts: what makes less for good, has not settled or breaks a limit is not worth having. */
function worth({ worth_up_to: most, sizes }: Growth): GrowthFinding[] {
  const limited = sizes.some(({ limits_broken: broken }) => broken.length > 0) ? " and keeps the limits" : "";
  const longest = sizes.at(-1);
  if (longest === undefined) return [];
  const text =
    most === null
      ? `With ${machines(sizes[0]?.machines ?? 0)} already the line does not make all that they need${limited === "" ? "" : " or breaks limits"}: none of these sizes is worth having.`
      : `Up to ${machines(most)}${most === longest.machines ? ", the most looked at," : ""} the line makes all that they need${limited}.`;
  return [{ code: "worth", text }];
}

/** The first size that breaks any, how far and for how long. */
function limits(sizes: readonly GrowthStep[]): GrowthFinding[] {
  const broken = sizes.filter(({ limits_broken: those }) => those.length > 0);
  const [first] = broken;
  if (first === undefined) return [];
  const also =
    broken.length === 1
      ? ""
      : `, and with ${number(broken.length - 1)} other ${broken.length === 2 ? "size" : "sizes"}`;
  return [
    {
      code: "limits",
      text: `Limits are broken with ${machines(first.machines)}${also}: ${brokenText(first.limits_broken)}.`,
    },
  ];
}

function tooSmall({ too_small: small, sizes }: Growth): GrowthFinding[] {
  const longest = sizes.at(-1);
  if (longest === undefined) return [];
  if (small === null) {
    return [{ code: "too-small", text: `Up to ${machines(longest.machines)} every belt carries what is needed.` }];
  }
  const need = sizes.find((step) => step.machines === small.from_machines)?.needs_per_min;
  const needed = need === undefined ? "" : `; all machines together need ${rate(approximately(need))}`;
  const text = `From ${machines(small.from_machines)} on the belt ${oneLine(small.belt)} is too small: it carries ${rate(approximately(small.rate_per_min))}${needed}.`;
  return [{ code: "too-small", text }];
}

/** The first and the last size for which a figure is there. */
function ends(sizes: readonly GrowthStep[], of: (step: GrowthStep) => number | null): [GrowthStep, GrowthStep] | null {
  const having = sizes.filter((step) => of(step) !== null);
  const [first] = having;
  const last = having.at(-1);
  return first === undefined || last === undefined || first === last ? null : [first, last];
}

function settling(sizes: readonly GrowthStep[]): GrowthFinding[] {
  const found = ends(sizes, (step) => step.settling_min);
  if (found === null) return [];
  const [first, last] = found;
  const text = `The settling time goes from ${duration(first.settling_min ?? 0)} with ${machines(first.machines)} to ${duration(last.settling_min ?? 0)} with ${number(last.machines)}${doubling(sizes, last)}.`;
  return [{ code: "settling", text }];
}

/** How many times as long twice the machines take, where half of them were run too. */
function doubling(sizes: readonly GrowthStep[], last: GrowthStep): string {
  const half = sizes.find((step) => step.machines * 2 === last.machines)?.settling_min ?? null;
  if (half === null || half <= 0 || last.settling_min === null) return "";
  return `, ${number(last.settling_min / half, 1)} times that with ${number(last.machines / 2)}`;
}

function tolerance(sizes: readonly GrowthStep[]): GrowthFinding[] {
  const found = ends(sizes, (step) => step.within_tolerance_min);
  if (found === null) return [];
  const [first, last] = found;
  const text = `The output keeps up with 95 % of its settled level from ${duration(first.within_tolerance_min ?? 0)} on with ${machines(first.machines)}, from ${duration(last.within_tolerance_min ?? 0)} on with ${number(last.machines)}.`;
  return [{ code: "tolerance", text }];
}

function itemsFound(sizes: readonly GrowthStep[]): GrowthFinding[] {
  const found = ends(sizes, (step) => step.ramp_up_loss);
  if (found === null) return [];
  const [first, last] = found;
  const text = `The ramp-up loss goes from ${number(first.ramp_up_loss ?? 0)} to ${items(last.ramp_up_loss ?? 0)}, the settled hold-up from ${number(first.hold_up_settled)} to ${items(last.hold_up_settled)}.`;
  return [{ code: "items", text }];
}

/** Sizes whose settled output is less than what the machines need. */
function short(sizes: readonly GrowthStep[]): GrowthFinding[] {
  const lacking = sizes.filter((step) => step.slower_for_good && step.stops_at_min === null);
  const [first] = lacking;
  if (first === undefined) return [];
  const all =
    lacking.length === 1 ? "" : ` and ${number(lacking.length - 1)} longer ${lacking.length === 2 ? "size" : "sizes"}`;
  const text = `Slower for good than the machines could be: ${machines(first.machines)} (${rate(longRun(first) ?? 0)} of ${rate(approximately(first.full_per_min))})${all}.`;
  return [{ code: "short", text }];
}

function stopped(sizes: readonly GrowthStep[]): GrowthFinding[] {
  const standing = sizes.filter(({ stops_at_min: at }) => at !== null).map((step) => number(step.machines));
  if (standing.length === 0) return [];
  return [{ code: "stopped", text: `The line stops for good with ${listedShort(standing)} machines.` }];
}

function unsettled(sizes: readonly GrowthStep[]): GrowthFinding[] {
  const lacking = sizes
    .filter(({ settling_min: at, stops_at_min: stops }) => (at ?? stops) === null)
    .map((step) => number(step.machines));
  if (lacking.length === 0) return [];
  return [{ code: "unsettled", text: `Not settled yet within the horizon with ${listedShort(lacking)} machines.` }];
}

function unproved(sizes: readonly GrowthStep[]): GrowthFinding[] {
  const lacking = sizes
    .filter(({ settling_min: at, proved }) => at !== null && !proved)
    .map((step) => number(step.machines));
  if (lacking.length === 0) return [];
  const which = lacking.length === sizes.length ? "every size" : `${listedShort(lacking)} machines`;
  return [{ code: "unproved", text: `The settling time of ${which} is read from the run, not proved.` }];
}
