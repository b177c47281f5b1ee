/** Why a machine waits, in words. */
import type { Cause, Wait } from "../../analysis/plant-results.ts";
import type { InfeedResult, Result } from "../../analysis/result.ts";
import { total } from "../../quantity/counts.ts";
import { approximately, below, listedShort, longRun, percent, rate } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";

/** "waits for lid", "has no room for its lid"; of several machines "wait" and "have". */
export function waiting({ state, item }: Pick<Wait, "state" | "item">, machines = 1): string {
  const one = machines === 1;
  if (state === "starved") return `${one ? "waits" : "wait"} for ${oneLine(item)}`;
  return `${one ? "has" : "have"} no room for ${one ? "its" : "their"} ${oneLine(item)}`;
}

const MOST_STEPS = 3;

/** From "because" on: over the machines on the way to where the wait begins. */
export function because(wait: Pick<Wait, "state" | "item">, cause: Cause, result: Result): string {
  const { via } = cause;
  const shown = via.length <= MOST_STEPS + 1 ? via : via.slice(0, MOST_STEPS);
  const steps = shown.map((step) => `${oneLine(step.machine)} ${waiting(step)}`);
  const last = steps.pop();
  if (last !== undefined) steps.push(shown.length < via.length ? `${last}, and so on` : last);
  return [...steps, beginning(cause, via.at(-1)?.state ?? wait.state, result)].join(", since ");
}

function beginning(cause: Cause, lastState: Wait["state"], result: Result): string {
  const element = oneLine(cause.element);
  const all = [cause.element, ...cause.alike].map(oneLine);
  const [run, make, take] = all.length === 1 ? ["runs", "makes", "takes"] : ["run", "make", "take"];
  const item = oneLine(cause.item);
  switch (cause.code) {
    case "short-feed":
      return `${feedGives(cause, result)}${servedFirst(cause)}`;
    case "slow-unloading":
      return `${listedShort([cause, ...cause.alike.map((also) => ({ element: also }))].map((one) => isUnloaded(one, result)))}${servedFirst(cause)}`;
    case "taken-off":
      return `${element} sends ${sentOn(cause, result)} on to ${oneLine(cause.outlet ?? "")}${fedAtMost(cause, result)}`;
    case "at-times":
      return lastState === "starved"
        ? `at times more ${item} is wanted than ${element} makes`
        : `at times more ${item} comes than the ${takenAtMost(cause, result)} that ${element} takes`;
    case "belt":
      return `belt ${element} carries no more than ${beltLoad(cause, result)}${servedFirst(cause)}`;
    case "slow-machine":
      return `${listedShort(all)} ${run} all the time${atSpeed([cause.element, ...cause.alike], result)} and ${lastState === "starved" ? make : take} no more${servedFirst(cause)}`;
    case "mix":
      return `${item} is in the way on line ${element}${tooMuch(cause, result)}`;
    case "jam":
      return `${item} stands at ${element} for ever`;
    case "outlet":
      return `${element} takes no ${item}`;
    case "circular":
      return "that machine waits for the first one in turn";
  }
}

/** "dock is unloaded at 60/min and no faster" */
export function isUnloaded({ element }: Pick<Cause, "element">, { batches }: Result): string {
  const vehicles = batches.find(({ feed }) => feed === element)?.vehicles;
  const speed = vehicles ? `at ${rate(approximately(vehicles.unloading_per_min))} and no faster` : "no faster";
  return `${oneLine(element)} is unloaded ${speed}`;
}

/** "10/min of grey" */
function sentOn({ item, outlet }: Pick<Cause, "item" | "outlet">, { outlets }: Result): string {
  const perMin = leaving(outlets, item, outlet);
  return perMin > 0 ? `${rate(perMin)} of ${oneLine(item)}` : `some ${oneLine(item)}`;
}

/** Items per minute of a kind that leave by one outlet, or by all. */
export function leaving(outlets: Result["outlets"], item: string, outlet?: string): number {
  const own = outlets.filter(({ id }) => outlet === undefined || id === outlet);
  return total(own.flatMap(({ items }) => items.map((one) => (one.item === item ? (longRun(one) ?? 0) : 0))));
}

/** Where even all that is fed of the kind were too little. */
function fedAtMost({ item }: Pick<Cause, "item">, result: Result): string {
  const { fed, needed } = fedAndNeeded(item, result);
  return fed > 0 && below(fed, needed) ? `, and of the ${rate(needed)} needed only ${rate(fed)} are fed` : "";
}

/** Items per minute of a kind that feeds give in the long run, and that machines take at full speed. */
export function fedAndNeeded(item: string, { feeds, machines }: Result): { fed: number; needed: number } {
  const fed = total(
    feeds.flatMap((feed) =>
      feed.items.map((one) => (one.item === item ? (longRun(feed) ?? 0) * approximately(one.share) : 0)),
    ),
  );
  return { fed, needed: total(machines.flatMap(({ infeed }) => needsOf(infeed, item))) };
}

function needsOf(infeed: readonly InfeedResult[], item: string): number[] {
  return infeed.flatMap((buffer) => (buffer.item === item ? [approximately(buffer.needs_per_min)] : []));
}

function takenAtMost({ element, item }: Cause, { machines }: Result): string {
  const machine = machines.find(({ id }) => id === element);
  return rate(total(needsOf(machine?.infeed ?? [], item)));
}

function feedGives({ element, alike, item }: Cause, { feeds }: Result): string {
  const all = [element, ...alike];
  const names = `${all.length === 1 ? "feed" : "feeds"} ${listedShort(all.map(oneLine))}`;
  const own = feeds.filter(({ id }) => all.includes(id));
  const haveEnded = own.length > 0 && own.every((feed) => approximately(feed.rate_per_min) === 0);
  if (haveEnded) return `${names} ${all.length === 1 ? "offers" : "offer"} nothing any more`;
  return all.length === 1
    ? `${names} gives all the ${oneLine(item)} it has`
    : `${names} give all the ${oneLine(item)} they have`;
}

function servedFirst({ served_first: served, decided_by: decided = [] }: Cause): string {
  const by = decided.length === 0 ? "" : ` by the order of ${listedShort(decided.map(oneLine))}`;
  if (served.length === 0) return by === "" ? "" : `, and others come first${by}`;
  return `, and ${listedShort(served.map(oneLine))} ${served.length === 1 ? "takes its own" : "take theirs"} first${by}`;
}

function beltLoad({ element }: Cause, { belts }: Result): string {
  const belt = belts.find(({ id }) => id === element);
  return belt === undefined ? "it does" : rate(longRun(belt) ?? 0);
}

function tooMuch({ element, item }: Cause, { mixes }: Result): string {
  const kind = mixes.find(({ line }) => line === element)?.kinds.find((one) => one.item === item);
  if (kind === undefined || kind.beside_per_min === null) return "";
  const [offered, takeable] = [approximately(kind.offered_per_min), approximately(kind.beside_per_min)];
  return offered > takeable ? `: ${rate(offered)} come, ${rate(takeable)} can be taken` : "";
}

/** " at 66.7 % of their speed": as the file sets it. */
function atSpeed(ids: readonly string[], { machines }: Result): string {
  const speeds = machines.flatMap(({ id, speed }) => (speed !== undefined && ids.includes(id) ? [speed] : []));
  if (speeds.length === 0) return "";
  const shown = listedShort([...new Set(speeds)].map((speed) => percent(approximately(speed))));
  return `, set to ${shown} of ${ids.length === 1 ? "its" : "their"} speed,`;
}

type Place = Pick<Cause, "code" | "element" | "alike" | "item" | "outlet">;

/** The place where products are lost, as the subject of a sentence: "feed press, which gives all the blank it has". */
export function culprit(cause: Place, result: Result): string {
  const { code, element, item, alike } = cause;
  const where = listedShort([element, ...alike].map(oneLine));
  const what = oneLine(item);
  const isOne = alike.length === 0;
  switch (code) {
    case "short-feed":
      return isOne
        ? `feed ${where}, which gives all the ${what} it has`
        : `feeds ${where}, which give all the ${what} they have`;
    case "slow-unloading":
      return `the unloading of vehicles: ${listedShort([element, ...alike].map((id) => isUnloaded({ element: id }, result)))}`;
    case "taken-off":
      return `${where}, which lets ${sentOn(cause, result)} go that is wanted${fedAtMost(cause, result)}`;
    case "at-times":
      return `${where}, at which at times more ${what} comes or is wanted than ${isOne ? "it works" : "they work"} off`;
    case "belt":
      return `belt ${where}, which carries no more`;
    case "slow-machine":
      return `${where}, which ${isOne ? "runs" : "run"} all the time${atSpeed([element, ...alike], result).replace(/,$/, "")}`;
    case "mix":
      return `the mix on line ${where}, where ${what} is in the way`;
    case "jam":
      return `the jam at ${where}`;
    case "outlet":
      return `${where}, which takes no ${what}`;
    case "circular":
      return `a circle of machines from ${where} on that wait for one another`;
  }
}
