/** Feeds: which kinds they release in which order, at which rate from when on, and where the items wait. */
import { commonDivisor, total } from "../quantity/counts.ts";
import { ONE, type Rational, rational, whole, ZERO } from "../quantity/rational.ts";
import { formatApproximate, formatDuration, formatRate } from "../quantity/units.ts";
import { fedAsNeeded, type NeedProblem, type Needs, needsOf, steady } from "./as-needed.ts";
import type { FileFindings, Path } from "./file-finding.ts";
import { MAX_BLOCKS_SEQUENCE, MAX_PROFILE_STEPS, MAX_RATE_PER_MIN, MAX_SPREAD_SEQUENCE } from "./file-limits.ts";
import { inFileOrder, isStated, type Reading, requireEntries } from "./reading.ts";
import type { Feed, FeedStep, ItemCount, Scenario } from "./scenario.ts";
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

/** Once machines and lines are read: the rates of feeds that give what is needed. */
export function readNeeds(
  plant: Pick<Scenario, "feeds" | "machines" | "lines">,
  { findings }: Reading,
): readonly Feed[] {
  // Of a plant that is wrong elsewhere needs say nothing.
  if (findings.hasErrors()) return plant.feeds;
  const needs = needsOf(plant);
  for (const feed of plant.feeds) {
    const [one, ...others] = feed.items;
    if (one === undefined || feed.batch !== null) continue;
    const path = ["feeds", feed.id, "rate"];
    if (feed.ofNeed === null) {
      if (others.length === 0) noteNearNeed(feed, needs, path, findings);
    } else if (others.length > 0) findings.report("need-of-several", {}, path);
    else reportNeed(feed, needs.partOf(feed), path, findings);
  }
  return fedAsNeeded(plant).feeds;
}

/** A feed rounded by hand to what is needed leaves buffers filling or draining for hours. */
const NEARLY = rational("1/1000");

function noteNearNeed(feed: Feed, needs: Needs, path: Path, findings: FileFindings): void {
  const [only, ...later] = feed.profile;
  const need = needs.partOf(feed);
  if (only === undefined || later.length > 0 || typeof need === "string" || need.equals(only.ratePerMin)) return;
  const apart = only.ratePerMin.sub(need).abs();
  if (apart.compare(need.mul(NEARLY)) >= 0) return;
  const args = { found: formatRate(only.ratePerMin), needed: formatApproximate(need) };
  findings.report("near-need", args, path);
}

function reportNeed(feed: Feed, need: Rational | NeedProblem, path: Path, findings: FileFindings): void {
  if (typeof need === "string") findings.report(need, { found: feed.id, item: feed.items[0]?.item ?? "" }, path);
  else if (feed.ofNeed !== null && need.mul(feed.ofNeed).compare(MAX_RATE_PER_MIN) > 0) {
    const found = formatApproximate(need.mul(feed.ofNeed));
    findings.report("too-large", { found, limit: formatRate(MAX_RATE_PER_MIN) }, path);
  }
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

function readSupply(feed: RawFeed, path: Path, reading: Reading): Pick<Feed, "profile" | "ofNeed" | "batch"> {
  const { findings, root } = reading;
  const stated = ["rate", "profile", "batch"].filter((key) => isStated(root, path, key));
  if (stated.length !== 1) {
    // What is stated in place of them, mistyped, has been reported.
    if (!findings.damaged(path)) findings.report("feed-form", { found: stated.join(" and ") }, path);
    return { profile: [], ofNeed: null, batch: null };
  }
  const { rate, profile, batch } = feed;
  // Filled in once machines and lines are known.
  if (rate === "as needed") return { profile: [], ofNeed: ONE, batch: null };
  if (rate !== undefined && "ofNeed" in rate) return { profile: [], ofNeed: rate.ofNeed, batch: null };
  if (rate !== undefined) return { profile: steady(rate), ofNeed: null, batch: null };
  if (batch === undefined) {
    return { profile: readProfile(profile ?? [], [...path, "profile"], reading), ofNeed: null, batch: null };
  }
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
    ofNeed: null,
    batch: { everyMin: batch.every, items: batch.items, firstMin: batch.first ?? ZERO },
  };
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
