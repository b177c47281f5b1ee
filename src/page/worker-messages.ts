/** What the page asks its workers, and what they answer. */
import type { Frame, Knob, Result, Series } from "../core.ts";

/** How the line is started: a tactic by its name, of a dose where it comes in doses; `null`: as the file has it. */
export interface Start {
  readonly id: string;
  readonly dose: number | null;
}

export interface Asked {
  readonly text: string;
  readonly start: Start | null;
}

export interface Source {
  /** Of the file, as messages name it. */
  readonly file: string;
}

export type Request =
  | { readonly ask: "source"; readonly source: Source }
  | ({ readonly ask: "answer" } & Asked)
  /** With what further runs tell; `null` where it is refused. */
  | { readonly ask: "whole"; readonly text: string }
  | ({ readonly ask: "stage"; readonly slot: number } & Asked)
  | { readonly ask: "frame"; readonly slot: number; readonly tick: number }
  | { readonly ask: "edit"; readonly text: string; readonly path: readonly string[]; readonly value: string };

export interface DrawnNode {
  readonly id: string;
  readonly kind: "feed" | "divider" | "merge" | "machine" | "outlet";
  readonly line: string | null;
  /** Index among its kind, as frames count. */
  readonly index: number;
}

export interface DrawnBuffer {
  readonly item: string;
  readonly room: number;
  /** Index in a frame's levels. */
  readonly at: number;
}

export interface DrawnMachine {
  readonly id: string;
  readonly infeed: readonly DrawnBuffer[];
  readonly outfeed: readonly DrawnBuffer[];
  /** Items that a cycle makes. */
  readonly perCycle: number;
  readonly isFinal: boolean;
}

/** A line as it is drawn. */
export interface Plan {
  readonly ticksPerMin: number;
  readonly horizonTicks: number;
  readonly startsAfterMin: number;
  readonly items: readonly string[];
  readonly nodes: readonly DrawnNode[];
  readonly machines: readonly DrawnMachine[];
  /** `belt`: index in a frame, or -1 where items are handed over. */
  readonly links: readonly { readonly id: string; readonly from: string; readonly to: string; readonly belt: number }[];
}

export interface TacticChoice {
  readonly id: string;
  readonly does: string;
  /** What doses count and which there are; empty where it comes in none. */
  readonly unit: string;
  readonly doses: readonly number[];
}

export interface Answer {
  readonly result: Result;
  readonly series: Series;
  readonly knobs: readonly Knob[];
  readonly plan: Plan;
  readonly tactics: readonly TacticChoice[];
}

export type Outcome<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly messages: readonly string[] };

/** By what was asked. */
export interface Replies {
  readonly source: null;
  readonly answer: Outcome<Answer>;
  readonly whole: Outcome<Result>;
  readonly stage: Outcome<Plan>;
  readonly frame: Frame | null;
  readonly edit: string;
}

export type Ask = keyof Replies;

export interface Posted {
  readonly id: number;
  readonly request: Request;
}

export interface Replied {
  readonly id: number;
  readonly reply: unknown;
  /** What went wrong in the program itself. */
  readonly failure?: string;
}
