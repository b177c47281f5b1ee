/** What a tactic does, in a phrase. */
import type { TacticNote } from "../network/tactics/part.ts";
import { formatDuration, formatPercentage, formatRate } from "../quantity/units.ts";
import type { Among, Amount, Prefill, Tactic } from "../scenario/tactic.ts";
import type { TacticPart } from "./idle-parts.ts";

export function tacticText(tactic: Tactic): string {
  const { prefill, hold, stagger, boost, lowLevel, metered, farEndFirst, secondFeed } = tactic;
  const parts: string[] = [];
  if (prefill) parts.push(prefillText(prefill));
  if (hold) {
    const until =
      hold.until === "own-full"
        ? "until its own buffer is full"
        : hold.until === "all-full"
          ? "until all buffers are full"
          : `for ${formatDuration(hold.until.afterMin)}`;
    const order = hold.release === "head-first" ? "from the head" : "from the tail";
    const every = formatDuration(hold.everyMin);
    const release =
      hold.release === "together"
        ? ""
        : hold.until === "own-full"
          ? `, and from then for ${every} more for each machine before it, counted ${order}`
          : `, then started ${order} every ${every}`;
    parts.push(`every machine held off ${until}${release}`);
  }
  if (stagger) parts.push(`machines started from the ${stagger.first} every ${formatDuration(stagger.everyMin)}`);
  if (boost) parts.push(`feeds at ${formatPercentage(boost.factor)} for ${formatDuration(boost.forMin)}`);
  if (lowLevel) {
    const long = lowLevel.forMin === null ? "for good" : `for ${formatDuration(lowLevel.forMin)}`;
    parts.push(`${amongText(lowLevel.among)} filled up to ${lowLevel.level} only, ${long}`);
  }
  if (metered) parts.push(`each branch limited to ${formatPercentage(metered.factor)} of its machine's need`);
  if (farEndFirst) {
    const until =
      farEndFirst.until === "tail-full"
        ? "until the last buffer is full"
        : `for ${formatDuration(farEndFirst.until.afterMin)}`;
    parts.push(`even dividers serve the through belt first ${until}, ordered ones stay as they are`);
  }
  if (secondFeed) {
    const at = secondFeed.at ?? "the last machine";
    const share = formatPercentage(secondFeed.share);
    parts.push(
      `${share} of the feed joins the belt that leads to ${at} (to its divider, where it has one) for ${formatDuration(secondFeed.forMin)}`,
    );
  }
  return parts.length === 0 ? "nothing done" : parts.join("; ");
}

function prefillText({ amounts, belts, byHandPerMin, while: when }: Prefill): string {
  const what =
    "among" in amounts
      ? `${amongText(amounts.among)} ${amountText(amounts.amount)}`
      : amounts.byMachine.map(({ machine, amount }) => `${machine} ${amountText(amount)}`).join(", ");
  const belted = belts ? " and loaded belts" : "";
  if (byHandPerMin === null) return `${what}${belted} at the start`;
  const pace = `by hand at ${formatRate(byHandPerMin)}`;
  return when === "running" ? `${what}, ${pace} beside the running line` : `${what}${belted} at the start, ${pace}`;
}

function amountText(amount: Amount): string {
  return amount === null ? "full" : `with ${amount} items`;
}

function amongText(among: Among): string {
  if (among.which === "all") return "every buffer";
  return among.count === 1 ? `the ${among.which} buffer` : `the ${among.which} ${among.count} buffers`;
}

export function slowerText(settledPerMin: number | null, fullPerMin: number): string {
  const perMin = (rate: number): string => `${Number(rate.toPrecision(4))}/min`;
  const own = settledPerMin === null ? "less" : perMin(settledPerMin);
  return `slower for good: the line settles at ${own}, not at ${perMin(fullPerMin)}`;
}

const PARTS: Readonly<Record<TacticPart, string>> = {
  prefill: "prefill",
  belts: "prefill-belts",
  hold: "hold",
  stagger: "stagger",
  boost: "boost",
  lowLevel: "low-level",
  metered: "metered",
  farEndFirst: "far-end-first",
  secondFeed: "second-feed",
};

export function idleText(part: TacticPart, tactic: Tactic): string {
  const why = waitsForFull(part, tactic) && isFilled(tactic) ? "what it waits for is full from the start, and " : "";
  return `${PARTS[part]} changes nothing here: ${why}without it the line runs alike, item for item`;
}

function waitsForFull(part: TacticPart, { hold, farEndFirst }: Tactic): boolean {
  if (part === "farEndFirst") return farEndFirst?.until === "tail-full";
  return part === "hold" && typeof hold?.until === "string";
}

function isFilled({ prefill }: Tactic): boolean {
  return (
    prefill !== null && prefill.while === "stopped" && "among" in prefill.amounts && prefill.amounts.amount === null
  );
}

export function noteText(note: TacticNote): string {
  switch (note.note) {
    case "boost-limited":
      return `the belt ${note.belt} carries no more: the feeds run at ${Number((note.factor.valueOf() * 100).toPrecision(4))} % at most`;
    case "not-metered":
      return `${note.branch} is a direct hand-over and cannot be metered`;
    case "no-even-divider":
      return "no divider takes turns, and ordered ones keep their order, so none is made to serve the far end first";
    case "no-second-feed":
      return `no belt leads to ${note.machine || "a machine"} that a second feed could join`;
  }
}
