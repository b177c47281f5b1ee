/** What sentences about a file are made of: how an entry is stated, what was found and what would be right, in words. */
import { isPer, moneyUnits } from "../quantity/money.ts";
import { QUANTITY_KINDS, type QuantityKind, unitsOf } from "../quantity/units.ts";

import { CHAIN_ENDS, LAYOUTS } from "./layout.ts";

export type Severity = "error" | "warning";

export interface Entry<K extends string> {
  readonly severity: Severity;
  readonly write: (arg: (name: K) => string) => string;
}

export function error<K extends string = never>(write: Entry<K>["write"]): Entry<K> {
  return { severity: "error", write };
}

export function warning<K extends string = never>(write: Entry<K>["write"]): Entry<K> {
  return { severity: "warning", write };
}

/** What stands in a place of the file, as an argument `found`. */
export const FOUND = { map: "a map", list: "a list", nothing: "nothing", text: quote } as const;

/** "a, b or c". */
function eitherOf(words: readonly string[]): string {
  return words.join(", ").replace(/, ([^,]*)$/, " or $1");
}

/** What a place in the file may hold, said to someone who has to type it. */
const EXPECTATIONS: Readonly<Record<string, string>> = {
  map: "a map of keys and values",
  list: "a list",
  text: "a text",
  name: "a name",
  names: "a name or a list of names",
  count: "a whole number of at least 1",
  counts: "a whole number of at least 1, or a map of one for each item",
  items: "items and how many, such as { pouch: 1 }",
  percentages: "a percentage such as 100 %, or a list of one for each machine",
  tick: "auto, or a duration such as 100 ms",
  horizon: "auto, or a duration such as 8 h",
  belt: "none, or a map such as { length: 3 m, speed: 24 m/min, pitch: 80 mm }",
  "return-belt": "a belt such as { rate: 60/min, capacity: 20 }, for a return needs one",
  end: `${CHAIN_ENDS.join(", ")} or an outlet's name`,
  "divider-rule": "even, ordered, or weights such as { weighted: { left: 3, right: 2 } }",
  layout: `a layout: ${eitherOf(LAYOUTS)}`,
  ways: "how many outlets dividers may have, 2 to 12, or a list of those that can be had, such as [2, 5]",
  rate: "a rate such as 30/min",
  "feed-rate": "a rate such as 30/min, as needed, or a share such as 110 % of need",
  duration: "a duration such as 90 s",
  length: "a length such as 80 mm",
  speed: "a speed such as 24 m/min",
  percentage: "a percentage such as 100 %",
  frequency: "how often, such as 5 per week",
  money: "an amount such as 0.45 EUR",
  "money-per-hour": "an amount per hour such as 32 EUR/h",
  "money-per-length": "an amount per metre such as 400 EUR/m",
  "money-per-area": "an amount per square metre such as 90 EUR/m2",
  costs: "at least one cost, such as product: 0.45 EUR",
  batch: "vehicles, such as { every: 20 min, items: 4000, rate: 600/min }",
  feeds: "at least one feed, such as blender: { item: pouch, rate: 240/min }",
  machines:
    "at least one machine or group of machines, such as cartoner: { count: 8, cycle: 2 s, … }, or outlets alone",
  lines: "at least one line, such as main: { layout: chain, from: blender, to: cartoner, belt: none }",
  means: "at least one thing that the floor grants, such as levels: movable",
  limits: "at least one limit, such as dwell: 10 min",
  places: "a place and what may lie there, such as main: { pouch: 900 }",
  dwell: "a duration such as 10 min, or a map of one for each item",
  tactic: "at least one part of a tactic, such as prefill: full",
  prefill: "full, a number of items, or a map such as { cartoner: 100 }",
  amount: "full, or a number of items",
  amounts: "a machine and its amount, such as { cartoner: 100 }",
  among: "all, or a few such as first 3 or last 3",
  "hold-until": "own-full, all-full, or a duration such as 5 min",
  "tail-until": "tail-full, or a duration such as 5 min",
  times: "a duration, or a distribution such as { exponential: 45 min }",
  shares: "a distribution about 100 % such as { lognormal: 100 %, spread: 10 % }",
  step: "the step, such as step: 2 s",
  spread: "the standard deviation, such as spread: 2 min or spread: 10 %",
  shape: "a shape from 0.1 to 100, such as shape: 1.5",
  stages: "the number of stages, such as stages: 3",
  "for-good": "good, or a duration such as 10 min",
};

/** Keys whose maps are best shown. */
const EXAMPLES: Readonly<Record<string, string>> = {
  feeds: "feeds",
  machines: "machines",
  lines: "lines",
  takes: "items",
  makes: "items",
};

export function example(key: string): string | undefined {
  return EXPECTATIONS[EXAMPLES[key] ?? ""];
}

export function expectation(kind: string): string {
  return EXPECTATIONS[kind] ?? kind;
}

export function units(kind: string, number: string): string {
  if (isPer(kind))
    return moneyUnits(kind, "")
      .map((unit) => clean(`${number}${unit}`, 60))
      .join(", ");
  const candidates = isQuantity(kind) ? unitsOf(kind) : [];
  return candidates.map((unit) => clean(`${number}${unit.startsWith("/") ? "" : " "}${unit}`, 60)).join(", ");
}

export function many(count: string, noun: string): string {
  return count === "1" ? `1 ${noun}` : `${count} ${noun}s`;
}

function isQuantity(kind: string): kind is QuantityKind {
  return QUANTITY_KINDS.some((known) => known === kind);
}

/** `text` after "a" or "an". */
export function one(text: string): string {
  return `${/^[aeiou]/.test(text) ? "an" : "a"} ${text}`;
}

export function meant(nearest: string, otherwise: string): string {
  return nearest === "" ? otherwise : `, did you mean ${quote(nearest)}?`;
}

export function quote(text: string): string {
  return `"${clean(text, 60)}"`;
}

/** What a file holds is printed on terminals: nothing in it may move the cursor or turn the writing round. */
export function clean(text: string, length: number): string {
  const shown = text.length > length ? `${text.slice(0, length)}…` : text;
  return shown.replace(/[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]/gu, (character) => {
    return `\\u${(character.codePointAt(0) ?? 0).toString(16).padStart(4, "0")}`;
  });
}
