/** What a fit says, in a few plain sentences, each with a code. */
import type { Fit, FittedUnknown } from "../../study/fit/fit-results.ts";
import { listed, number } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";
import { valueText, valueWithin, worstMisfit } from "./fit-figures.ts";

export type FitFindingCode =
  | "fits"
  | "misfit"
  | "no-freedom"
  | "pinned"
  | "one-sided"
  | "alone-no-matter"
  | "combination"
  | "untold"
  | "together"
  | "at-bound"
  | "starts";

export interface FitFinding {
  readonly code: FitFindingCode;
  readonly text: string;
}

export function fitFindings(fit: Fit): FitFinding[] {
  return [
    ...fit.unknowns.map(unknownFinding),
    ...combinations(fit),
    ...together(fit),
    ...fit.unknowns.flatMap(atBound),
    goodness(fit),
    ...starts(fit),
  ].filter((finding) => finding !== null);
}

function unknownFinding(unknown: FittedUnknown): FitFinding | null {
  const { path, told, range_95: range, lower, upper, value, unit } = unknown;
  const name = oneLine(path);
  const shown = valueWithin(unknown);
  const [low, high] = range;
  const between = `from ${valueText(lower, unit)} to ${valueText(upper, unit)}`;
  switch (told) {
    case "pinned": {
      const isExact = low === high;
      const range95 = isExact
        ? "the whole numbers next to it fit worse"
        : `from ${shown(low ?? lower)} to ${shown(high ?? upper)}`;
      return { code: told, text: `${name} is ${shown(value)}: ${range95} (95 %).` };
    }
    case "one-sided": {
      const end = low === null ? `at most ${shown(high ?? upper)}` : `at least ${shown(low)}`;
      const other =
        low === null
          ? `least value down to ${valueText(lower, unit)}`
          : `greatest value up to ${valueText(upper, unit)}`;
      return { code: told, text: `${name} is ${end} (95 %); the counts set no ${other}.` };
    }
    case "alone-no-matter":
      return {
        code: told,
        text: `The counts don't tell ${name}: a change of it alone, anywhere ${between}, leaves all that was observed as it is. It is left at ${valueText(value, unit)}.`,
      };
    case "untold":
      return {
        code: told,
        text: `The counts tell too little of ${name}: any value ${between} fits them within 95 %.`,
      };
    // Told of together with what makes up for it.
    case "combination":
      return null;
  }
}

/** Each set of unknowns once. */
function combinations({ unknowns }: Fit): FitFinding[] {
  const sets = new Map<string, readonly string[]>();
  for (const { path, told, with: others } of unknowns) {
    if (told !== "combination") continue;
    const all = unknowns.map((one) => one.path).filter((one) => one === path || others.includes(one));
    sets.set(all.join(" "), all);
  }
  return [...sets.values()].map((all) => ({
    code: "combination",
    text:
      all.length === 1
        ? `The counts don't tell ${oneLine(all[0] ?? "")}: other unknowns make up for any change of it.`
        : `Only a combination of ${listed(all.map(oneLine))} is known: each can have any value between its bounds if the others make up for it.`,
  }));
}

/** Estimates that go together this much are hardly told apart. */
const CLOSE = 0.9;

function together({ unknowns, correlations }: Fit): FitFinding[] {
  return unknowns.flatMap((one, i) =>
    unknowns.slice(i + 1).flatMap((other, n): FitFinding[] => {
      const correlation = correlations[i]?.[i + 1 + n] ?? 0;
      if (Math.abs(correlation) < CLOSE || one.told === "combination" || other.told === "combination") return [];
      const text = `${oneLine(one.path)} and ${oneLine(other.path)} are known better together than apart: their estimates are correlated by ${number(correlation, 2)}, so that an error in one brings one in the other.`;
      return [{ code: "together", text }];
    }),
  );
}

function atBound({ path, value, lower, upper, unit, told }: FittedUnknown): FitFinding[] {
  if ((value !== lower && value !== upper) || told === "alone-no-matter") return [];
  const text = `${oneLine(path)} lies at its bound, ${valueText(value, unit)}: the best value may lie beyond it.`;
  return [{ code: "at-bound", text }];
}

function goodness(fit: Fit): FitFinding {
  const { chi_square: chiSquare, degrees_of_freedom: freedom, reduced, fits, widened_by: by } = fit;
  if (reduced === null) {
    return {
      code: "no-freedom",
      text: "There are no more observations than unknowns: nothing tells whether the model fits.",
    };
  }
  const measured = `χ² is ${number(chiSquare, 1)} with ${number(freedom)} ${freedom === 1 ? "degree" : "degrees"} of freedom, ${number(reduced, 2)} each`;
  if (fits) {
    return { code: "fits", text: `The model fits the counts: ${measured}, where counting errors alone make about 1.` };
  }
  const worst = worstMisfit(fit);
  const text = `The model does not fit the counts within their errors: ${measured}, where counting errors alone make about 1, and ${oneLine(worst?.name ?? "")} fits worst. Either something else differs from the plant, or the counts are less sure than stated. Errors and ranges are widened by ${number(by, 1)} for that.`;
  return { code: "misfit", text };
}

function starts({ starts: tried, agreeing }: Fit): FitFinding[] {
  if (agreeing === tried) return [];
  const text = `Of ${number(tried)} starts of the search ${number(agreeing)} came to a fit as good: there are other valleys, so try other bounds before this one is believed.`;
  return [{ code: "starts", text }];
}
