/** A line that stays below its full output: why, and which machines wait. */
import type { Bottleneck } from "../../analysis/plant-results.ts";
import type { BeltResult, FeedResult, MachineResult, Result } from "../../analysis/result.ts";
import { total } from "../../quantity/counts.ts";
import { approximately, below, listedShort, longRun, percent, rate } from "../text/figures.ts";
import type { Finding } from "../text/finding.ts";
import { oneLine } from "../text/text-width.ts";
import { fedAndNeeded, isUnloaded, leaving } from "./causes-text.ts";

/** A line still filling up says nothing of it. */
export function shortfall(result: Result): Finding[] {
  if (!isShort(result)) return [];
  const { starved, blocked } = waitingIn(result);
  const parts = [`${cause(result, starved, blocked)} ${ofFull(result)}.`];
  if (starved.length > 0) parts.push(`In the long run these starve: ${named(starved)}.`);
  if (blocked.length > 0) parts.push(`In the long run these are blocked: ${named(blocked)}.`);
  return [{ code: "short", text: parts.join(" ") }];
}

/** "of its full output of 120/min it reaches 88.3 %" */
function ofFull({ output }: Result): string {
  const full = approximately(output.full_per_min);
  return `of its full output of ${rate(full)} it reaches ${percent((longRun(output) ?? 0) / full)}`;
}

/** The cause, a clause; `null` where the output is full, or only measured. */
export function whyShort(result: Result): string | null {
  if (!isShort(result)) return null;
  const { starved, blocked } = waitingIn(result);
  return cause(result, starved, blocked).replace(/[:;]$/, "");
}

function isShort({ output, settling }: Result): boolean {
  const at = longRun(output);
  return settling.basis !== "measured" && at !== null && below(at, approximately(output.full_per_min));
}

function waitingIn({ machines }: Result): { starved: MachineResult[]; blocked: MachineResult[] } {
  const waiting = machines.filter((machine) => shareMissing(machine) > 0);
  return {
    starved: waiting.filter(({ minutes }) => minutes.starved >= minutes.blocked),
    blocked: waiting.filter(({ minutes }) => minutes.starved < minutes.blocked),
  };
}

/** Up to where the sentence goes on with "of its full output". */
function cause(result: Result, starved: readonly MachineResult[], blocked: readonly MachineResult[]): string {
  const { feeds } = result;
  const isHeld = feeds.some(heldBack);
  if (isHeld) {
    const limits = limitingBelts(result);
    if (limits.length > 0) {
      const carry = listedShort(limits.map((belt) => `${oneLine(belt.id)} carries only ${rate(longRun(belt) ?? 0)}`));
      const offered = total(feeds.map((feed) => approximately(feed.rate_per_min)));
      const taken = total(feeds.map((feed) => longRun(feed) ?? 0));
      return `${carry}: of the ${rate(offered)} fed the line takes ${rate(taken)};`;
    }
    const scarce = scarceItems(feeds, starved);
    return scarce.length > 0 ? `${tooLittle(scarce, result)}${besides(result)}:` : `${otherwise(result) ?? HELD_UP}:`;
  }
  const reason = otherwise(result);
  if (reason !== null) return `${reason}:`;
  return starved.length > 0 || blocked.length === 0 ? "Too little is fed:" : `${HELD_UP}:`;
}

const HELD_UP = "The line is held up";

/** By the places at which output is lost: what is unloaded too slowly, fed too little of, or let go though it is wanted. */
function otherwise(result: Result): string | null {
  const { bottlenecks, feeds } = result;
  const all = bottlenecks ?? [];
  const slow = all.filter(({ code }) => code === "slow-unloading");
  if (slow.length > 0) return listedShort([...new Set(slow.map((one) => isUnloaded(one, result)))]);
  const off = lettingGo(result);
  const fed = new Set(feeds.flatMap(kindsOf));
  const lacking = [...all.filter(({ code }) => code === "short-feed"), ...off].map(({ item }) => item);
  const scarce = [...new Set(lacking)].filter((item) => {
    const { fed: perMin, needed } = fedAndNeeded(item, result);
    return fed.has(item) && below(perMin, needed);
  });
  if (off.length === 0) return fed.size > 1 && scarce.length > 0 ? tooLittle(scarce, result) : null;
  if (scarce.length > 0) return `${tooLittle(scarce, result)}${besides(result)}`;
  const isFed = off.every(({ item }) => fed.has(item));
  return isFed ? `Enough is fed, but ${gone(result)}` : gone(result);
}

/** "; besides, 10/min of grey, which is wanted, leave by spare" */
function besides(result: Result): string {
  return lettingGo(result).length === 0 ? "" : `; besides, ${gone(result)}`;
}

function gone(result: Result): string {
  const kinds = [...new Set(lettingGo(result).map(({ item }) => item))];
  return listedShort(
    kinds.map((item) => {
      const by = result.outlets.filter(({ id }) => leaving(result.outlets, item, id) > 0).map(({ id }) => oneLine(id));
      return `${rate(leaving(result.outlets, item))} of ${oneLine(item)}, which is wanted, leave by ${listedShort(by)}`;
    }),
  );
}

function lettingGo({ bottlenecks }: Result): Bottleneck[] {
  return (bottlenecks ?? []).filter(({ code }) => code === "taken-off");
}

/** "Too little navy is fed (40/min of 60/min)" */
function tooLittle(kinds: readonly string[], result: Result): string {
  const all = kinds.map((item) => {
    const { fed, needed } = fedAndNeeded(item, result);
    return { item: oneLine(item), of: `${rate(fed)} of ${rate(needed)}` };
  });
  const [first] = all;
  if (first !== undefined && all.length === 1) return `Too little ${first.item} is fed (${first.of})`;
  return `Too little ${listedShort(all.map(({ item, of }) => `${item} (${of})`))} is fed`;
}

/** Belts at their limit that hold a feed back; a branch that gives its machine all it needs does not. */
export function limitingBelts({ belts, feeds, machines, bottlenecks }: Result): BeltResult[] {
  if (!feeds.some(heldBack)) return [];
  if (bottlenecks !== null && bottlenecks.length > 0) {
    const limits = new Set(bottlenecks.filter(({ code }) => code === "belt").map(({ element }) => element));
    return belts.filter(({ id }) => limits.has(id));
  }
  const satisfied = new Set(machines.filter((machine) => shareMissing(machine) === 0).map(({ id }) => id));
  return belts.filter((belt) => hasNoHeadroom(belt) && !satisfied.has(belt.to));
}

export function hasNoHeadroom({ headroom_per_min: left }: BeltResult): boolean {
  return left !== null && approximately(left) <= 0;
}

/** The line takes less of it in the long run than it offers. */
export function heldBack(feed: FeedResult): boolean {
  const taken = longRun(feed);
  return taken !== null && below(taken, approximately(feed.rate_per_min));
}

/** Of what starved machines take, the kinds that are fed and wholly taken. */
function scarceItems(feeds: readonly FeedResult[], starved: readonly MachineResult[]): string[] {
  const abundant = new Set(feeds.filter(heldBack).flatMap(kindsOf));
  const scarce = new Set(feeds.flatMap(kindsOf).filter((item) => !abundant.has(item)));
  const wanted = starved.flatMap(({ infeed }) => infeed.map(({ item }) => item)).filter((item) => scarce.has(item));
  return [...new Set(wanted)];
}

function kindsOf({ items }: FeedResult): string[] {
  return items.map(({ item }) => item);
}

function named(machines: readonly MachineResult[]): string {
  return listedShort(
    machines.map((machine) => `${oneLine(machine.id)} (${percent(1 - shareMissing(machine))} of its need)`),
  );
}

/** Of what the machine needs, the share that it does not get in the long run. */
function shareMissing(machine: MachineResult): number {
  const need = approximately(machine.needs_per_min);
  const has = longRun(machine);
  return has === null || need === 0 || !below(has, need) ? 0 : 1 - has / need;
}
