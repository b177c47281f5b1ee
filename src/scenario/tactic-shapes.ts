/** What several parts of a tactic are made of: which machines, and how long; as a type, as a shape, and as written. */
import * as z from "zod/mini";
import type { Rational } from "../quantity/rational.ts";
import { formatDuration } from "../quantity/units.ts";
import { MAX_MACHINES } from "./file-limits.ts";
import { quantity, saysWhenWrong, withMeta, words } from "./shape-parts.ts";

/** All machines of the plant, or the first or last few of each line in feeding order. */
export type Among = { readonly which: "all" } | { readonly which: "first" | "last"; readonly count: number };

export const ALL: Among = { which: "all" };

/** @internal */
export function among(about: string) {
  return withMeta(
    z.pipe(
      z.string({ error: "among" }).check(z.regex(/^(all|(first|last) +[1-9][0-9]*)$/, { error: "among" })),
      z.transform((text, context): Among => {
        if (text === "all") return { which: "all" };
        const chosen = Number(text.replace(/^\D+/, ""));
        if (chosen > MAX_MACHINES) {
          const params = { limit: String(MAX_MACHINES) };
          context.issues.push({ code: "custom", message: "too-large", input: text, params });
          return z.NEVER;
        }
        return { which: text.startsWith("first") ? "first" : "last", count: chosen };
      }),
    ),
    {
      description: about,
      examples: ["all", "first 3", "last 3"],
      default: "all",
      ...saysWhenWrong("all, first 3, last 3 or the like"),
    },
  );
}

/** @param kind what is expected, for findings; names words and a duration @internal */
export function wordsOrDuration<const W extends readonly [string, ...string[]]>(kind: string, known: W, about: string) {
  return withMeta(z.union([words(known, "An event."), quantity("duration", "A time.")], { error: kind }), {
    description: about,
  });
}

export function amongBody(among: Among): string {
  return among.which === "all" ? among.which : `${among.which} ${among.count}`;
}

export function untilText(until: string | { readonly afterMin: Rational }): string {
  return typeof until === "string" ? until : formatDuration(until.afterMin);
}

/** As the file spells a part: low-level for lowLevel. */
export type Key<Part extends string> = Part extends `${infer First}${infer Rest}`
  ? `${First extends Lowercase<First> ? First : `-${Lowercase<First>}`}${Key<Rest>}`
  : "";
