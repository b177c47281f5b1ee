/** A line that stops for good: since when, and what its machines wait for. */
import type { InfeedResult, MachineResult, Result } from "../../analysis/result.ts";
import { approximately, duration, fromStart, listed, listedShort } from "./figures.ts";
import type { Finding } from "./finding.ts";
import { oneLine } from "./text-width.ts";

/** What is to be done about it, before anything else is weighed. */
export const CHANGE_FIRST = "the mix, the take-off at the far end or the dividers are to be changed first";

/** Its settled output is exactly nothing. */
export function standsStill({ output }: Pick<Result, "output">): boolean {
  return output.settled_per_min !== null && approximately(output.settled_per_min) === 0;
}

/** "Nothing is made from 23.1 min on" or, where no product ever comes, "Nothing is ever made". */
export function nothingMade({ settling, output }: Pick<Result, "settling" | "output">): string {
  if (output.made === 0) return "Nothing is ever made";
  return settling.time_min === null
    ? "In the end nothing is made"
    : `Nothing is made from ${duration(fromStart(settling, settling.time_min))} on`;
}

export function standstill(result: Result): Finding {
  const { settling, machines, feeds } = result;
  const made = nothingMade(result);
  const how = settling.basis === "recurrence" ? " This is proved: its whole state recurs." : "";
  const ended = feeds.every((feed) => approximately(feed.rate_per_min) === 0)
    ? " No feed offers anything any more."
    : "";
  const waiting = waits(machines).map((wait) => ` ${wait}.`);
  const text = `The line stops for good: ${made.charAt(0).toLowerCase()}${made.slice(1)}.${ended}${waiting.join("")}${how}`;
  return { code: "stopped", text };
}

/** Machines that wait in the same way are named together. */
function waits(machines: readonly MachineResult[]): string[] {
  const together = new Map<string, string[]>();
  for (const machine of machines) {
    const how = wait(machine);
    const others = together.get(how);
    if (others === undefined) together.set(how, [oneLine(machine.id)]);
    else others.push(oneLine(machine.id));
  }
  return [...together].map(([how, ids]) => `${listedShort(ids)} ${ids.length === 1 ? "waits" : "wait"} ${how}`);
}

function wait({ infeed, minutes }: MachineResult): string {
  if (minutes.blocked > minutes.starved) return "with a product for which there is no room";
  const empty = infeed.filter(({ settled_high: high }) => high === 0);
  const lacking = empty.length > 0 ? empty : infeed.filter((buffer) => !isFull(buffer));
  const kinds = (buffers: readonly InfeedResult[]): string => listed(buffers.map(({ item }) => oneLine(item)));
  const full = infeed.filter(isFull);
  const beside = full.length === 0 ? "" : ` with the ${kinds(full)} buffer${full.length === 1 ? "" : "s"} full`;
  return lacking.length === 0 ? `to start${beside}` : `for ${kinds(lacking)}${beside}`;
}

function isFull({ settled_low: low, capacity }: InfeedResult): boolean {
  return low !== null && low >= capacity;
}
