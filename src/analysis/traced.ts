/** The ends that a traced wait may have, and how one is chosen where there are several. */
import type { Connection } from "../network/network.ts";
import type { Cause } from "./plant-results.ts";
import type { WaitState } from "./settled-view.ts";
import type { Question } from "./ways.ts";

export const MOST_LISTED = 20;

export interface Traced {
  readonly code: Cause["code"];
  readonly element: string;
  readonly alike: readonly string[];
  readonly item: string;
  /** Nearest first; linked, since many waits share their ends. */
  readonly via: Via | null;
  readonly served: Served | null;
  /** By which what is taken off leaves. */
  readonly outlet?: string;
  /** The machine at which an unclear way ends, if it waits for nothing else. */
  readonly at?: string;
  /** Items per minute missing or held back there, by which one of several is chosen. */
  readonly missing: number;
  /** `null` where the end is clear; else how much of what it can carry the busiest belt so far does. */
  readonly load: number | null;
}

export interface Via {
  readonly machine: string;
  readonly state: WaitState;
  readonly item: string;
  readonly next: Via | null;
}

export interface Served {
  readonly machines: readonly string[];
  /** The ordered divider or merge at which they come first; `null` where no order decides. */
  readonly by: string | null;
  readonly before: Served | null;
}

export type Asked =
  | { readonly what: "wait"; readonly machine: string; readonly state: WaitState; readonly item: string }
  | { readonly what: "from" | "to"; readonly connection: Connection; readonly item: string };

export type Answer = { readonly traced: Traced | null };

export function ended(traced: Omit<Traced, "via" | "served" | "alike" | "load">): Question<Asked, Answer> {
  return { needs: [], answer: () => ({ traced: { ...traced, alike: [], via: null, served: null, load: null } }) };
}

/** There is more of a kind, or more of it would be taken, and no belt seems to be at its limit: the busiest must be it. */
export function unclear(item: string, missing: number, at?: string): Question<Asked, Answer> {
  const end = at === undefined ? {} : { at };
  const traced: Traced = {
    code: "belt",
    element: "",
    item,
    alike: [],
    via: null,
    served: null,
    missing,
    load: 0,
    ...end,
  };
  return { needs: [], answer: () => ({ traced }) };
}

/** Counts a belt among those on an unclear way. */
export function past(
  connection: Connection,
  load: number,
  { needs, answer }: Question<Asked, Answer>,
): Question<Asked, Answer> {
  return {
    needs,
    answer: (answerTo) => {
      const { traced } = answer(answerTo);
      if (traced === null || traced.load === null || load <= traced.load) return { traced };
      return { traced: { ...traced, element: connection.id, load } };
    },
  };
}

/** A belt to and from which items come by fits and starts carries a little less than it could. */
const BUSY = 0.9;

/**
 * What is still unclear at the end of the ways ends at the busiest belt, if that is busy; else at a machine that waits for
 * nothing but what was asked, and so does too little only while it runs.
 */
export function decided({ needs, answer }: Question<Asked, Answer>): Question<Asked, Answer> {
  return {
    needs,
    answer: (answerTo) => {
      const { traced } = answer(answerTo);
      if (traced === null || traced.load === null) return { traced };
      if (traced.load >= BUSY) return { traced: { ...traced, load: null } };
      return {
        traced: traced.at === undefined ? null : { ...traced, code: "at-times", element: traced.at, load: null },
      };
    },
  };
}

/** The answer with the most missing, of equal ones the first; circles count only where there is nothing else. */
export function greatest(needs: readonly Asked[]): Question<Asked, Answer> {
  return {
    needs,
    answer: (answerTo) => {
      const all = needs.flatMap((need) => answerTo(need)?.traced ?? []);
      const [first, ...others] = all;
      return { traced: first === undefined ? null : others.reduce(foremost, first) };
    },
  };
}

function foremost(most: Traced, other: Traced): Traced {
  if (rank(other) > rank(most)) return other;
  return isAlike(other, most) ? { ...most, alike: alikeTo(most, other) } : most;
}

/** Both at the end of their ways, with nothing missing there: a feed wholly taken, a machine that never waits. */
function isAlike(one: Traced, other: Traced): boolean {
  const isSame = one.code === other.code && one.item === other.item && one.missing === other.missing;
  return isSame && one.missing === 0 && one.via === null && other.via === null;
}

function alikeTo({ element, alike }: Traced, other: Traced): string[] {
  const all = new Set([...alike, other.element, ...other.alike]);
  all.delete(element);
  return [...all].slice(0, MOST_LISTED);
}

function rank({ code, missing, load }: Traced): number {
  if (code === "circular") return -2;
  return load === null ? missing : -1;
}
