/**
 * The prose of every finding, and nowhere else: here and in the files of messages that this one joins. An entry names its
 * severity, the arguments it needs (checked where findings are made) and the sentence. Other floors add their codes there.
 */
import { FILE_MESSAGES } from "./file-messages.ts";
import { type Entry, error, meant, quote, type Severity } from "./message-parts.ts";
import { PLANT_MESSAGES } from "./plant-messages.ts";
import { TABLE_MESSAGES } from "./table-messages.ts";

/** Findings of what a file leaves to chance. */
const RANDOM_MESSAGES = {
  "distribution-form": error<"found" | "families">(
    (arg) =>
      `a distribution states exactly one of ${arg("families")}; this one states ${arg("found") || "none of them"}`,
  ),
  "distribution-values": error<"found" | "family">(
    (arg) =>
      `${quote(arg("found"))}: ${arg("family") === "uniform" ? "uniform takes two values, [least, most]" : "triangular takes three values, [least, most frequent, most]"}, none below the one before and the last above the first`,
  ),
  "geometric-step": error<"found" | "step">(
    (arg) => `a step of ${arg("step")} is longer than the mean of ${arg("found")}; the step is the least value`,
  ),
  "share-mean": error<"found">(
    (arg) =>
      `the mean here is ${arg("found")} and must be 100 %: this says only how values spread about what is stated at the machine or feed itself`,
  ),
  "two-timings": error<"found">(
    (arg) =>
      `${quote(arg("found"))} counts each time from the one before, "jitter" from the schedule; remove one of the two`,
  ),
  "no-batch": error<"found">(
    (arg) => `the feed ${quote(arg("found"))} has no batch whose vehicles could be left to chance; remove this`,
  ),
};

/** What can be wrong with a file of observed counts. */
const OBSERVED_MESSAGES = {
  "observed-empty": error(
    () => "no observations: expected a header such as time_min,cartoner-3.made and a row for each time",
  ),
  "observed-no-rows": error(() => "no observations below the header: expected a row for each time, such as 5,118"),
  "observed-semicolons": error(
    () => "cells are parted by semicolons here: expected commas, and points in decimals, such as 2.5,118",
  ),
  "observed-quote": error(() => 'a quotation mark that is not closed: expected cells such as 118 or "118"'),
  "observed-too-many": error<"what" | "limit">((arg) => `too many ${arg("what")}: expected at most ${arg("limit")}`),
  "observed-no-time": error<"found">(
    (arg) => `the first column is ${quote(arg("found"))}: expected the times, as time_min, time_s, time_h or time_ms`,
  ),
  "observed-unknown": error<"found" | "nearest" | "example">((arg) =>
    `nothing of this plant is called ${quote(arg("found"))}`.concat(
      meant(arg("nearest"), `: expected a thing that can be observed, such as ${arg("example")}`),
    ),
  ),
  "observed-which-kind": error<"found" | "known">(
    (arg) => `${quote(arg("found"))} holds several kinds: state which, as ${arg("known")}`,
  ),
  "observed-twice": error<"found">((arg) => `${quote(arg("found"))} has a column already: expected one for each thing`),
  "observed-cells": error<"found" | "expected">(
    (arg) =>
      `a row of ${arg("found")} cells: expected ${arg("expected")}, as in the header; leave cells empty, not out`,
  ),
  "observed-bad-time": error<"found">(
    (arg) => `${quote(arg("found"))} is no time: expected a number such as 2.5, from 0 to a month`,
  ),
  "observed-time-order": error<"found" | "before">(
    (arg) => `the time ${arg("found")} does not come after ${arg("before")} above: expected rising times`,
  ),
  "observed-beyond-horizon": error<"found" | "horizon">(
    (arg) =>
      `the time ${arg("found")} lies beyond the horizon of ${arg("horizon")}: expected one within it; state a longer horizon in the scenario`,
  ),
  "observed-falls": error<"found" | "before" | "name">(
    (arg) =>
      `${quote(arg("name"))} falls from ${arg("before")} to ${arg("found")}, but it counts from the start: expected a count that never falls; a counter that was set back goes on from where it was`,
  ),
  "observed-bad-count": error<"found">(
    (arg) => `${quote(arg("found"))} is no count: expected a number such as 118, or nothing where none was taken`,
  ),
  "observed-no-counts": error<"found">(
    (arg) => `no counts in the column ${quote(arg("found"))}: expected at least one`,
  ),
} as const;

export { FOUND, type Severity } from "./message-parts.ts";

export const catalogue = {
  ...FILE_MESSAGES,
  ...PLANT_MESSAGES,
  ...RANDOM_MESSAGES,
  ...OBSERVED_MESSAGES,
  ...TABLE_MESSAGES,
};

type Catalogue = typeof catalogue;
export type Code = keyof Catalogue;
/** The arguments that a code's sentence needs. */
export type ArgsOf<C extends Code> = Catalogue[C] extends Entry<infer K> ? Readonly<Record<K, string>> : never;

export function severityOf(code: Code): Severity {
  return catalogue[code].severity;
}

export function sentence(code: Code, args: Readonly<Record<string, string>>): string {
  return catalogue[code].write((name: string) => args[name] ?? "");
}
