/** Why a machine waits, in words. */
import type { Cause, Wait } from "../analysis/plant-results.ts";
import type { Result } from "../analysis/result.ts";
import { approximately, listedShort, longRun, rate } from "./figures.ts";
import { oneLine } from "./text-width.ts";

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
    case "belt":
      return `belt ${element} carries no more than ${beltLoad(cause, result)}${servedFirst(cause)}`;
    case "slow-machine":
      return `${listedShort(all)} ${run} all the time and ${lastState === "starved" ? `${make} no more${servedFirst(cause)}` : `${take} no more`}`;
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

function servedFirst({ served_first: served }: Cause): string {
  if (served.length === 0) return "";
  return `, and ${listedShort(served.map(oneLine))} ${served.length === 1 ? "takes its own" : "take theirs"} first`;
}

function beltLoad({ element }: Cause, { belts }: Result): string {
  const belt = belts.find(({ id }) => id === element);
  return belt === undefined ? "it does" : rate(longRun(belt) ?? 0);
}

function tooMuch({ element, item }: Cause, { mixes }: Result): string {
  const kind = mixes.find(({ line }) => line === element)?.kinds.find((one) => one.item === item);
  if (kind === undefined || kind.takeable_per_min === null) return "";
  const [offered, takeable] = [approximately(kind.offered_per_min), approximately(kind.takeable_per_min)];
  return offered > takeable ? `: ${rate(offered)} come, ${rate(takeable)} can be taken` : "";
}

/** The place where products are lost, as the subject of a sentence: "feed press, which gives all the blank it has". */
export function culprit({ code, element, item }: Pick<Cause, "code" | "element" | "item">): string {
  const [where, what] = [oneLine(element), oneLine(item)];
  switch (code) {
    case "short-feed":
      return `feed ${where}, which gives all the ${what} it has`;
    case "belt":
      return `belt ${where}, which carries no more`;
    case "slow-machine":
      return `${where}, which runs all the time`;
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
