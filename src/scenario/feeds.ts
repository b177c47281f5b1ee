/** Feeds: what they release and at which rate from when on. */
import { ZERO } from "../quantity/rational.ts";
import { formatDuration } from "../quantity/units.ts";
import type { Path } from "./finding.ts";
import { MAX_PROFILE_STEPS } from "./limits.ts";
import { inFileOrder, isStated, type Reading } from "./reading.ts";
import type { Feed, FeedStep } from "./scenario.ts";
import type { RawFeed, RawScenario } from "./shapes.ts";

export function readFeeds(raw: RawScenario, reading: Reading): Feed[] {
  return inFileOrder(reading.root, ["feeds"], raw.feeds).map(([id, feed]) => {
    return { id, item: feed.item, profile: readProfile(feed, ["feeds", id], reading) };
  });
}

function readProfile(feed: RawFeed, path: Path, reading: Reading): FeedStep[] {
  const { findings, root } = reading;
  if (isStated(root, path, "rate") === isStated(root, path, "profile")) {
    // A batch or the like stands in for both; it has been reported.
    if (!findings.damaged(path)) findings.report("feed-form", {}, path);
    return [];
  }
  if (feed.rate !== undefined) return [{ fromMin: ZERO, ratePerMin: feed.rate }];
  const steps = (feed.profile ?? []).map((step) => ({ fromMin: step.from, ratePerMin: step.rate }));
  if (steps.length > 0) checkProfile(steps, [...path, "profile"], reading);
  return steps;
}

function checkProfile(steps: readonly FeedStep[], path: Path, { findings }: Reading): void {
  if (steps.length > MAX_PROFILE_STEPS) {
    const args = { found: String(steps.length), limit: String(MAX_PROFILE_STEPS), what: "steps" };
    findings.report("too-many", args, path);
    return;
  }
  let before: FeedStep | undefined;
  for (const [index, step] of steps.entries()) {
    const found = formatDuration(step.fromMin);
    const at = [...path, index, "from"];
    if (before === undefined) {
      if (step.fromMin.n !== 0n) findings.report("profile-start", { found }, at);
    } else if (step.fromMin.compare(before.fromMin) <= 0) {
      findings.report("profile-order", { found, before: formatDuration(before.fromMin) }, at);
    }
    before = step;
  }
  if (steps.every((step) => step.ratePerMin.n === 0n)) findings.report("profile-zero", {}, path);
}
