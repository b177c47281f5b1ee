/** What the floor grants for priming: a tactic that asks for more is compared and named, and does not win. */
import type { Rational } from "../quantity/rational.ts";
import type { Prefill } from "./tactic.ts";

export interface Means {
  /** `null`: none go into the line. */
  readonly hands: HandsGranted | null;
  /** The levels up to which infeed buffers fill can be moved. */
  readonly levels: boolean;
  /** Branches run at any speed below their own. */
  readonly branches: boolean;
  readonly starts: { readonly held: boolean; readonly staggered: boolean };
  /** How much faster the feeds can run, and for how long; `null`: no faster. */
  readonly feed: { readonly factor: Rational; readonly forMin: Rational } | null;
  /** The machine at which part of the feed can join the line; `null`: none. */
  readonly secondFeed: string | null;
  /** Dividers can be told which outlet goes first. */
  readonly dividers: boolean;
}

export interface HandsGranted {
  /** The most that they place. */
  readonly items: number;
  readonly ratePerMin: Rational;
  readonly while: Prefill["while"];
}

/** Where the file states none. */
export const PLAIN_MEANS: Means = {
  hands: null,
  levels: false,
  branches: false,
  starts: { held: true, staggered: true },
  feed: null,
  secondFeed: null,
  dividers: false,
};
