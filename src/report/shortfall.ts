/** A line that stays below its full output: why, and which machines wait. */
import type { BeltResult, FeedResult, MachineResult, Result } from "../analysis/result.ts";
import { total } from "../quantity/counts.ts";
import { approximately, below, listedShort, longRun, percent, rate } from "./figures.ts";
import type { Finding } from "./finding.ts";
import { oneLine } from "./text-width.ts";

/** A line still filling up says nothing of it. */
export function shortfall(result: Result): Finding[] {
  const { output, machines, settling } = result;
  if (settling.basis === "measured") return [];
  const at = longRun(output);
  const full = approximately(output.full_per_min);
  if (at === null || !below(at, full)) return [];
  const waiting = machines.filter((machine) => shareMissing(machine) > 0);
  const starved = waiting.filter(({ minutes }) => minutes.starved >= minutes.blocked);
  const blocked = waiting.filter(({ minutes }) => minutes.starved < minutes.blocked);
  const parts = [
    `${cause(result, starved, blocked)} of its full output of ${rate(full)} it reaches ${percent(at / full)}.`,
  ];
  if (starved.length > 0) parts.push(`In the long run these starve: ${named(starved)}.`);
  if (blocked.length > 0) parts.push(`In the long run these are blocked: ${named(blocked)}.`);
  return [{ code: "short", text: parts.join(" ") }];
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
    return scarce.length > 0 ? `Too little ${listedShort(scarce)} is fed:` : "The line is held up:";
  }
  const elsewhere = goneElsewhere(result);
  if (elsewhere !== null && elsewhere.perMin > 0) {
    const go = `${rate(elsewhere.perMin)} go elsewhere (outlets)`;
    return elsewhere.isEnough ? `Enough is fed, but ${go}:` : `What is fed does not satisfy the line, and of it ${go}:`;
  }
  return starved.length > 0 || blocked.length === 0 ? "What is fed does not satisfy the line:" : "The line is held up:";
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
  return [...new Set(wanted)].map(oneLine);
}

/**
 * Items per minute that are fed, all taken, and reach no machine, and whether the feeds would satisfy the machines.
 * `null` where the result does not tell, since a machine takes several kinds.
 */
function goneElsewhere({ feeds, machines }: Result): { perMin: number; isEnough: boolean } | null {
  const kinds = new Set(feeds.flatMap(kindsOf));
  const takers = machines.filter(({ infeed }) => infeed.some(({ item }) => kinds.has(item)));
  if (takers.some(({ infeed }) => infeed.length > 1)) return null;
  const fed = total(feeds.map((feed) => longRun(feed) ?? 0));
  const perMin = fed - total(takers.map((machine) => longRun(machine) ?? 0));
  const isEnough = [...kinds].every((kind) => {
    const ofKind = feeds.filter((feed) => kindsOf(feed).includes(kind));
    const needed = total(
      takers
        .filter(({ infeed }) => infeed.some(({ item }) => item === kind))
        .map((machine) => approximately(machine.needs_per_min)),
    );
    return !below(total(ofKind.map((feed) => longRun(feed) ?? 0)), needed);
  });
  return { perMin: below(0, perMin) ? perMin : 0, isEnough };
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
