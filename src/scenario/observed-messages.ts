/** What can be wrong with a file of observed counts. */
import { error, meant, quote } from "./message-parts.ts";

export const OBSERVED_MESSAGES = {
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
