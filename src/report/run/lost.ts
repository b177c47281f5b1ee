/** Where output is lost: the bottleneck, what its cure brings, and why the final machines wait. */
import type { Bottleneck, Cure, Wait } from "../../analysis/plant-results.ts";
import type { MachineResult, Result } from "../../analysis/result.ts";
import { total } from "../../quantity/counts.ts";
import { approximately, listed, listedShort, percent, rate, significant } from "../text/figures.ts";
import type { Finding } from "../text/finding.ts";
import { oneLine } from "../text/text-width.ts";
import { because, culprit, waiting } from "./causes-text.ts";

/** Beyond so many of each, the table has the rest. */
const MOST_SAID = 3;

export function whereLost(result: Result): Finding[] {
  return [...bottleneck(result), ...cures(result), ...finalWaits(result)];
}

/** By further runs: what each of the bottlenecks named is worth by itself, and what comes after the first. */
function cures(result: Result): Finding[] {
  const all = together(result.bottlenecks ?? []).slice(0, MOST_SAID);
  const [first, ...others] = all.flatMap(({ cure, ...place }) => (cure === undefined ? [] : [{ place, cure }]));
  if (first === undefined) return [];
  const { next } = first.cure;
  const isSame = next !== null && next.code === first.place.code && next.element === first.place.element;
  const then = next === null ? "then nothing holds the last machines up" : `the next limit is ${culprit(next, result)}`;
  const also = others.map(({ place, cure }) => `; ${changed(place, cure)} ${brings(cure)}`).join("");
  const text = `Tried by itself, ${changed(first.place, first.cure)} ${brings(first.cure)}: ${isSame ? "it is still the limit" : then}${also}.`;
  return [{ code: "cure", text }];
}

function changed({ code, element, alike }: Bottleneck, { change }: Cure): string {
  const where = listedShort([element, ...alike].map(oneLine));
  if (code === "short-feed") return `half as much again from ${where}`;
  const whose = alike.length > 0 ? "their" : "its";
  return `${where} ${change === "full-speed" ? `at 100\u00a0% of ${whose} speed` : "half as fast again"}`;
}

function brings({ gain_per_min: gain, settled_per_min: settled }: Cure): string {
  const more = approximately(gain);
  if (more <= 0) return more === 0 ? "brings nothing" : `brings less, ${rate(approximately(settled))} in all`;
  return `brings ${significant(more)}/min more`;
}

function bottleneck(result: Result): Finding[] {
  const { bottlenecks, lines, machines, output } = result;
  if (bottlenecks === null) return [];
  // A single one at which machines wait straight away is named where their wait is told.
  const direct = machines.every(({ waits }) => waits.every(({ cause }) => cause === null || cause.via.length === 0));
  if (bottlenecks.length === 1 && direct) return [];
  const [first, ...others] = together(bottlenecks).slice(0, MOST_SAID);
  if (first === undefined) {
    // Of a single line at full output it goes without saying.
    if (lines.length < 2 || output.settled_per_min !== output.full_per_min) return [];
    const slowed = machines.filter(({ speed, uptime }) => speed !== undefined && uptime.settled === 1);
    const set = slowed.map(({ id, speed = "1" }) => `${oneLine(id)} at ${percent(approximately(speed))} of its speed`);
    const text = `There is no bottleneck before the last machines: all of them run all the time${set.length === 0 ? "" : `, ${listedShort(set)}`}.`;
    return [{ code: "bottleneck", text }];
  }
  const also = others.length === 0 ? "" : ` After it: ${others.map((one) => oneOf(one, result)).join("; ")}.`;
  const text = `The bottleneck is ${oneOf(first, result)}.${also}`;
  return [{ code: "bottleneck", text }];
}

/** Kinds that are lost in one place in the same way are named together. */
function together(bottlenecks: readonly Bottleneck[]): Bottleneck[] {
  const places = new Map<string, Bottleneck[]>();
  for (const one of bottlenecks) {
    const key = JSON.stringify([one.code, one.element]);
    places.set(key, [...(places.get(key) ?? []), one]);
  }
  const merged = [...places.values()].flatMap((all) => {
    const [first] = all;
    if (first === undefined) return [];
    const lost = total(all.map(({ lost_per_min: own }) => own));
    return [{ ...first, item: listed(all.map(({ item }) => oneLine(item))), lost_per_min: lost }];
  });
  return merged.toSorted((a, b) => b.lost_per_min - a.lost_per_min);
}

function oneOf(one: Bottleneck, result: Result): string {
  return `${culprit(one, result)} (${significant(one.lost_per_min)}/min lost)`;
}

interface Alike {
  readonly machines: MachineResult[];
  readonly wait: Wait;
  readonly least: number;
  readonly most: number;
}

/** What each final machine waits for; machines that wait alike are named together. */
function finalWaits(result: Result): Finding[] {
  const final = new Set((result.bottlenecks ?? []).flatMap(({ machines }) => machines));
  const groups = new Map<string, Alike>();
  for (const machine of result.machines) {
    for (const wait of final.has(machine.id) ? worthSaying(machine.waits) : []) {
      if (wait.cause === null) continue;
      const { code, element, item, via, served_first } = wait.cause;
      const key = JSON.stringify([wait.state, wait.item, code, element, item, via, served_first]);
      const share = wait.settled_share ?? 0;
      const group = groups.get(key) ?? { machines: [], wait, least: share, most: share };
      group.machines.push(machine);
      groups.set(key, { ...group, least: Math.min(group.least, share), most: Math.max(group.most, share) });
    }
  }
  const found = [...groups.values()]
    .slice(0, MOST_SAID)
    .map((group): Finding => ({ code: "wait", text: sentence(group, result) }));
  const more = groups.size - found.length;
  if (more > 0) {
    const others = more === 1 ? "Another group of machines waits" : `${more} more groups of machines wait`;
    found.push({ code: "wait", text: `${others} in another way: see the report's table.` });
  }
  return found;
}

function sentence({ machines, wait, least, most }: Alike, result: Result): string {
  if (wait.cause === null) return "";
  const who = listedShort(machines.map(({ id }) => oneLine(id)));
  const reason = because(wait, wait.cause, result);
  return `${who} ${waiting(wait, machines.length)}${share(wait, least, most)}, because ${reason}.`;
}

/** Of the time, once settled. */
function share({ settled_share: known }: Wait, least: number, most: number): string {
  if (known === null) return "";
  const [low, high] = [percent(least), percent(most)];
  return low === high ? ` ${high} of the time` : ` ${low} to ${high} of the time`;
}

/** The longest one, and each that is more than an accident beside it; the longest first. */
function worthSaying(waits: readonly Wait[]): Wait[] {
  const size = ({ settled_share, minutes }: Wait): number => settled_share ?? minutes;
  const traced = waits.filter(({ cause }) => cause !== null).toSorted((a, b) => size(b) - size(a));
  return traced.filter((wait) => size(wait) >= MORE_THAN_ACCIDENT * size(traced[0] ?? wait));
}

const MORE_THAN_ACCIDENT = 0.1;
