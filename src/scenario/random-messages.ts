/** Findings of what a file leaves to chance. */
import { error, quote } from "./message-parts.ts";

export const RANDOM_MESSAGES = {
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
