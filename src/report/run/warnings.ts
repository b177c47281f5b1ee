/** Warnings as people read them: one that comes again and again is told once, with its places. */
import { listed } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";

const MOST_PLACES = 3;

/** Warnings that differ in names and numbers alone are one: the first of them, and where the others stand. */
interface Gathered {
  /** "file:line:column", of the first; `null` where it has none. */
  readonly place: string | null;
  readonly text: string;
  /** "; likewise lines 9, 12 and 5 more", or nothing. */
  readonly likewise: string;
}

/** @param warnings as "file:line:column: warning: text", or only text */
function gathered(warnings: readonly string[]): Gathered[] {
  const kinds = new Map<string, { place: string | null; text: string }[]>();
  for (const warning of warnings) {
    const [, place = null, what = oneLine(warning)] = /^(.+:\d+:\d+): warning: (.*)$/.exec(oneLine(warning)) ?? [];
    const key = what.replace(/"[^"]*"|\d[\d./]*/g, "*");
    kinds.set(key, [...(kinds.get(key) ?? []), { place, text: what }]);
  }
  return [...kinds.values()].flatMap(([first, ...others]) =>
    first === undefined ? [] : [{ ...first, likewise: likewise(others.map(({ place }) => place)) }],
  );
}

function likewise(places: readonly (string | null)[]): string {
  if (places.length === 0) return "";
  const lines = [...new Set(places.flatMap((place) => place?.split(":").at(-2) ?? []))];
  const more = lines.length - MOST_PLACES;
  if (lines.length === 0) return `; likewise ${places.length} more`;
  const shown = more > 0 ? [...lines.slice(0, MOST_PLACES), `${more} more`] : lines;
  return `; likewise ${lines.length === 1 ? "line" : "lines"} ${listed(shown)}`;
}

/** "text (plant.yaml:8:5; likewise line 9)" */
export function together(warnings: readonly string[]): string[] {
  return gathered(warnings).map(({ place, text, likewise: also }) =>
    place === null ? `${text}${also}` : `${text} (${place}${also})`,
  );
}

/** As messages have them: "plant.yaml:8:5: warning: text; likewise line 9". */
export function messagesTogether(warnings: readonly string[]): string[] {
  return gathered(warnings).map(({ place, text, likewise: also }) =>
    place === null ? `${text}${also}` : `${place}: warning: ${text}${also}`,
  );
}
