/** Feeds: which kinds they release in which order, at which rate from when on, and where the items wait. */
import { commonDivisor, total } from "../quantity/counts.ts";
import { type Rational, whole, ZERO } from "../quantity/rational.ts";
import { formatDuration, formatRate } from "../quantity/units.ts";
import type { Path } from "./finding.ts";
import { MAX_BLOCKS_SEQUENCE, MAX_PROFILE_STEPS, MAX_SPREAD_SEQUENCE } from "./limits.ts";
import { inFileOrder, isStated, type Reading, requireEntries } from "./reading.ts";
import type { Batch, Feed, FeedStep, ItemCount } from "./scenario.ts";
import type { RawFeed, RawScenario } from "./shapes.ts";

export function readFeeds(raw: RawScenario, reading: Reading): Feed[] {
  return inFileOrder(reading.root, ["feeds"], raw.feeds).map(([id, feed]) => {
    const path = ["feeds", id];
    const items = readItems(feed, path, reading);
    return {
      id,
      items,
      order: items.length > 1 ? (feed.order ?? "spread") : "spread",
      ...readSupply(feed, path, reading),
      surge: feed.surge ?? null,
    };
  });
}

/** One kind has no proportion, and no order; whatever the file says, it reads the same. */
function readItems(feed: RawFeed, path: Path, reading: Reading): ItemCount[] {
  const { findings, root } = reading;
  const stated = ["item", "items"].filter((key) => isStated(root, path, key));
  if (stated.length !== 1) {
    // What is stated in place of both, mistyped, has been reported.
    if (!findings.damaged(path)) findings.report("feed-items", { found: stated.join(" and ") }, path);
    return [];
  }
  if (feed.item !== undefined) {
    if (feed.order !== undefined)
      findings.report("needs-key", { found: "order", needed: "items" }, [...path, "order"], "key");
    return [{ item: feed.item, count: 1 }];
  }
  const at = [...path, "items"];
  requireEntries(reading, at, "items");
  const items = inFileOrder(root, at, feed.items).map(([item, count]) => ({ item, count }));
  if (!findings.damaged(path)) checkSequence(items, feed.order ?? "spread", at, reading);
  const [only] = items;
  return only !== undefined && items.length === 1 ? [{ ...only, count: 1 }] : items;
}

/** Blocks are as long as stated, so 20 and 10 are not 2 and 1. */
function checkSequence(items: readonly ItemCount[], order: Feed["order"], path: Path, { findings }: Reading): void {
  const divisor = order === "spread" ? commonDivisor(items.map(({ count }) => count)) : 1;
  const length = total(items.map(({ count }) => count)) / Math.max(1, divisor);
  const limit = order === "spread" ? MAX_SPREAD_SEQUENCE : MAX_BLOCKS_SEQUENCE;
  if (items.length < 2 || length <= limit) return;
  const args = { found: String(length), limit: String(limit), what: "items until the kinds' order repeats" };
  findings.report("too-many", args, path);
}

function readSupply(feed: RawFeed, path: Path, reading: Reading): { profile: FeedStep[]; batch: Batch | null } {
  const { findings, root } = reading;
  const stated = ["rate", "profile", "batch"].filter((key) => isStated(root, path, key));
  if (stated.length !== 1) {
    // What is stated in place of them, mistyped, has been reported.
    if (!findings.damaged(path)) findings.report("feed-form", { found: stated.join(" and ") }, path);
    return { profile: [], batch: null };
  }
  const { rate, profile, batch } = feed;
  if (rate !== undefined) return { profile: steady(rate), batch: null };
  if (batch === undefined) return { profile: readProfile(profile ?? [], [...path, "profile"], reading), batch: null };
  const unloadingMin = whole(batch.items).div(batch.rate);
  if (unloadingMin.compare(batch.every) > 0) {
    const args = {
      found: formatDuration(unloadingMin),
      every: formatDuration(batch.every),
      bring: formatRate(whole(batch.items).div(batch.every)),
      unloaded: formatRate(batch.rate),
    };
    findings.report("batch-slow", args, [...path, "batch"]);
  }
  return {
    profile: steady(batch.rate),
    batch: { everyMin: batch.every, items: batch.items, firstMin: batch.first ?? ZERO },
  };
}

function steady(ratePerMin: Rational): FeedStep[] {
  return [{ fromMin: ZERO, ratePerMin }];
}

function readProfile(raw: NonNullable<RawFeed["profile"]>, path: Path, reading: Reading): FeedStep[] {
  const steps = raw.map((step) => ({ fromMin: step.from, ratePerMin: step.rate }));
  if (steps.length > 0) checkProfile(steps, path, reading);
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
