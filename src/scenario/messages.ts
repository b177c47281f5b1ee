/**
 * The prose of every finding, and nowhere else. An entry names its severity, the arguments it needs (checked where
 * findings are made) and the sentence. Other floors add their codes here.
 */
import { type QuantityKind, unitsOf } from "../quantity/units.ts";

export type Severity = "error" | "warning";

interface Entry<K extends string> {
  readonly severity: Severity;
  readonly write: (arg: (name: K) => string) => string;
}

function error<K extends string = never>(write: Entry<K>["write"]): Entry<K> {
  return { severity: "error", write };
}

function warning<K extends string = never>(write: Entry<K>["write"]): Entry<K> {
  return { severity: "warning", write };
}

export const catalogue = {
  // The text as a whole.
  "file-too-big": error<"found" | "limit">((arg) => `the file has ${arg("found")} bytes; at most ${arg("limit")}`),
  "no-content": error(() => "the file holds no scenario; it begins with feeds, machines and lines"),
  "several-documents": error(() => `a file holds one scenario; remove the line "---" and what follows it`),
  "bad-yaml": error<"problem">((arg) => `not valid YAML: ${clean(arg("problem"), 200)}`),
  "too-deep": error<"limit">((arg) => `maps and lists within one another deeper than ${arg("limit")} levels`),
  "too-many-values": error<"limit">((arg) => `more than ${arg("limit")} values, aliases counted as what they repeat`),
  "unknown-alias": error<"found">((arg) => `no anchor ${quote(`&${arg("found")}`)} stands before this alias`),
  "alias-in-itself": error<"found">((arg) => `the alias ${quote(`*${arg("found")}`)} stands within what it repeats`),
  "bad-tag": error<"found">((arg) => `tags such as ${quote(arg("found"))} have no meaning here; remove it`),
  "bad-key": error(() => "a key must be plain text, not null, a map or a list"),
  "duplicate-key": error<"found" | "line">(
    (arg) => `${quote(arg("found"))} is stated already on line ${arg("line")}; keep one of the two`,
  ),
  "merge-key": error(() => `"<<" is no key of YAML 1.2; repeat the keys, or a whole map by an alias`),

  // Structure.
  "unknown-key": error<"found" | "nearest" | "known">(
    (arg) => `unknown key ${quote(arg("found"))}${meant(arg("nearest"), `; known here: ${arg("known")}`)}`,
  ),
  "comma-between": error<"right">(
    (arg) => `a comma separates entries here; decimals take a point, ${quote(arg("right"))}`,
  ),
  "missing-key": error<"key" | "expected">(
    (arg) => `${quote(arg("key"))} is missing: state ${example(arg("key")) ?? expectation(arg("expected"))}`,
  ),
  "wrong-type": error<"found" | "expected">(
    (arg) => `found ${clean(arg("found"), 70)}, expected ${expectation(arg("expected"))}`,
  ),
  "unknown-word": error<"found" | "nearest" | "known">(
    (arg) => `unknown word ${quote(arg("found"))}${meant(arg("nearest"), "")}; one of: ${arg("known")}`,
  ),
  "not-yet": error<"found" | "supported">(
    (arg) =>
      `${quote(arg("found"))} is not supported by this version of fillfront${arg("supported") && `; ${arg("supported")}`}`,
  ),
  "bad-name": error<"found">(
    (arg) =>
      `${quote(arg("found"))} is no name: letters, digits, "-" and "_", beginning with a letter or digit, at most 40`,
  ),
  "bad-text": error<"found">((arg) => `${quote(arg("found"))} holds control characters; use plain text`),
  "text-too-long": error<"found" | "limit">((arg) => `${arg("found")} characters; at most ${arg("limit")}`),
  empty: error<"expected">((arg) => `nothing is stated here; state ${expectation(arg("expected"))}`),

  // Quantities and counts.
  "missing-unit": error<"found" | "kind">(
    (arg) => `${quote(arg("found"))} has no unit; one of: ${units(arg("kind"), arg("found"))}`,
  ),
  "unknown-unit": error<"found" | "unit" | "kind">(
    (arg) => `${quote(arg("found"))}: unknown unit ${quote(arg("unit"))}, expected ${expectation(arg("kind"))}`,
  ),
  "no-number": error<"found" | "kind">((arg) => `${quote(arg("found"))} is not ${expectation(arg("kind"))}`),
  "decimal-comma": error<"found" | "right">(
    (arg) => `${quote(arg("found"))}: decimals take a point, ${quote(arg("right"))}`,
  ),
  negative: error<"found">((arg) => `${quote(arg("found"))} is negative`),
  zero: error<"found">((arg) => `${quote(arg("found"))}: must be more than zero`),
  "too-many-digits": error<"found">((arg) => `${quote(arg("found"))}: too many digits to count with exactly`),
  "out-of-range": error<"found" | "range">((arg) => `${quote(arg("found"))}: must be ${arg("range")}`),
  "too-large": error<"found" | "limit">((arg) => `${quote(arg("found"))}: at most ${arg("limit")}`),
  "too-many": error<"found" | "limit" | "what">((arg) => `${arg("found")} ${arg("what")}; at most ${arg("limit")}`),

  // Names.
  "duplicate-id": error<"found" | "line">(
    (arg) => `the name ${quote(arg("found"))} is taken already, on line ${arg("line")}`,
  ),
  "unknown-reference": error<"found" | "expected" | "nearest">(
    (arg) => `no ${arg("expected")} is called ${quote(arg("found"))}${meant(arg("nearest"), "")}`,
  ),
  "wrong-reference": error<"found" | "is" | "expected">(
    (arg) => `${quote(arg("found"))} is a ${arg("is")}; expected ${arg("expected")}`,
  ),
  "several-machines": error<"found" | "first" | "last">(
    (arg) => `${quote(arg("found"))} is a group; name one machine, ${quote(arg("first"))} to ${quote(arg("last"))}`,
  ),
  "listed-twice": error<"found">((arg) => `${quote(arg("found"))} is listed already`),
  "unknown-item": error<"found" | "nearest">(
    (arg) => `no feed or machine supplies an item ${quote(arg("found"))}${meant(arg("nearest"), "")}`,
  ),
  "item-not-taken": error<"found" | "nearest">(
    (arg) => `no machine or outlet takes the item ${quote(arg("found"))}${meant(arg("nearest"), "")}`,
  ),

  // Feeds.
  "feed-form": error(() => "a feed states either its rate, or a profile of rates over time"),
  "profile-start": error<"found">((arg) => `a profile starts from 0 min, not from ${quote(arg("found"))}`),
  "profile-order": error<"found" | "before">(
    (arg) => `each step of a profile starts later than the one before: ${arg("found")} after ${arg("before")}`,
  ),
  "profile-zero": error(() => "every rate of this profile is zero; the feed would never feed"),
  "feed-twice": error<"found" | "line">(
    (arg) =>
      `the feed ${quote(arg("found"))} feeds another belt already, on line ${arg("line")}; a divider can share it`,
  ),
  "unused-feed": warning<"found">((arg) => `no line uses the feed ${quote(arg("found"))}`),

  // Machines.
  "buffer-missing": error<"item" | "buffer">(
    (arg) =>
      `${arg("buffer")} states no room for ${quote(arg("item"))}; give every kind its own, or one number for all`,
  ),
  "buffer-item": error<"found" | "nearest" | "buffer">(
    (arg) => `${arg("buffer")}: no cycle has an item ${quote(arg("found"))}${meant(arg("nearest"), "")}`,
  ),
  "buffer-small": error<"found" | "needed" | "item" | "buffer">(
    (arg) =>
      `${arg("buffer")} has room for ${arg("found")}, but one cycle has ${arg("needed")} of ${quote(arg("item"))}`,
  ),
  "speed-count": error<"found" | "needed">(
    (arg) => `${many(arg("found"), "speed")} for ${many(arg("needed"), "machine")}; state one for each, or one for all`,
  ),

  // Belts and junctions.
  "belt-form": error<"found">(
    (arg) =>
      `a belt states length, speed and pitch (and rate, if less than speed / pitch), or rate and capacity (and transit), or none; this one states ${arg("found") || "nothing"}`,
  ),
  "belt-too-fast": error<"found" | "limit">(
    (arg) => `${quote(arg("found"))}: at this speed and pitch the belt carries at most ${arg("limit")}`,
  ),
  "belt-slow": warning<"found" | "limit" | "needed">(
    (arg) =>
      `with room for ${many(arg("found"), "item")} the belt carries at most ${arg("limit")}; its rate needs room for ${arg("needed")}`,
  ),
  "divider-inlets": error<"found" | "count">(
    (arg) => `the divider ${quote(arg("found"))} needs exactly one belt to it; found ${arg("count")}`,
  ),
  "divider-outlets": error<"found" | "count">(
    (arg) => `the divider ${quote(arg("found"))} needs at least two belts from it; found ${arg("count")}`,
  ),
  "merge-inlets": error<"found" | "count">(
    (arg) => `the merge ${quote(arg("found"))} needs at least two belts to it; found ${arg("count")}`,
  ),
  "merge-outlets": error<"found" | "count">(
    (arg) => `the merge ${quote(arg("found"))} needs exactly one belt from it; found ${arg("count")}`,
  ),

  // Tactics.
  "reserved-name": error<"found">(
    (arg) => `${quote(arg("found"))} stands for the run without any tactic; give this one another name`,
  ),
  "needs-key": error<"found" | "needed">(
    (arg) => `${quote(arg("found"))} means something only with ${quote(arg("needed"))}; state that too, or remove this`,
  ),
  "prefill-form": error(
    () => "prefill-of goes with one amount for every buffer; amounts by machine say already which buffers",
  ),
  "amount-too-large": error<"found" | "capacity" | "item" | "machine">(
    (arg) =>
      `${many(arg("found"), "item")} in a buffer of ${quote(arg("machine"))}, which has room for ${arg("capacity")} of ${quote(arg("item"))}`,
  ),

  // The network as a whole.
  "unreachable-machine": warning<"found" | "item">(
    (arg) => `no ${quote(arg("item"))} can come to the machine ${quote(arg("found"))}; it will never run`,
  ),
  "merge-direct": error<"found" | "belt">(
    (arg) => `${quote(arg("belt"))} hands over to the merge ${quote(arg("found"))} without a belt; only a feed can`,
  ),
  "direct-too-deep": error<"found" | "limit">(
    (arg) =>
      `more than ${arg("limit")} dividers hand over directly one after another, at ${quote(arg("found"))}; put a belt between`,
  ),
  "tick-too-long": error<"found" | "limit" | "element">(
    (arg) => `a tick of ${arg("found")} is too long for ${quote(arg("element"))}; at most ${arg("limit")}, or auto`,
  ),
  "too-fine": error<"element">(
    (arg) =>
      `${quote(arg("element"))}: its time and the tick together are too fine or too long to count; choose rounder ones`,
  ),
  "horizon-too-short": error<"found" | "tick">(
    (arg) => `a horizon of ${arg("found")} holds not one tick of ${arg("tick")}`,
  ),
  "step-after-horizon": warning<"found" | "horizon">(
    (arg) => `the step from ${arg("found")} begins after the horizon of ${arg("horizon")} and is left out`,
  ),
  "run-too-long": error<"ticks" | "elements">(
    (arg) =>
      `${arg("ticks")} ticks of ${arg("elements")} elements are too many to step through; shorten the horizon or lengthen the tick`,
  ),

  "more-findings": error<"count">((arg) => `and ${arg("count")} more`),
};

type Catalogue = typeof catalogue;
export type Code = keyof Catalogue;
/** The arguments that a code's sentence needs. */
export type ArgsOf<C extends Code> = Catalogue[C] extends Entry<infer K> ? Readonly<Record<K, string>> : never;

export function severityOf(code: Code): Severity {
  return catalogue[code].severity;
}

export function sentence(code: Code, args: Readonly<Record<string, string>>): string {
  return catalogue[code].write((name: string) => args[name] ?? "");
}

/** What stands in a place of the file, as an argument `found`. */
export const FOUND = { map: "a map", list: "a list", nothing: "nothing", text: quote } as const;

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
  belt: "none, or a map such as { length: 3 m, speed: 24 m/min, pitch: 80 mm }",
  layout: "a layout, chain or custom",
  rate: "a rate such as 30/min",
  duration: "a duration such as 90 s",
  length: "a length such as 80 mm",
  speed: "a speed such as 24 m/min",
  percentage: "a percentage such as 100 %",
  feeds: "at least one feed, such as blender: { item: pouch, rate: 240/min }",
  machines: "at least one machine or group of machines, such as cartoner: { count: 8, cycle: 2 s, … }",
  lines: "at least one line, such as main: { layout: chain, from: blender, to: cartoner, belt: none }",
  tactic: "at least one part of a tactic, such as prefill: full",
  prefill: "full, a number of items, or a map such as { cartoner: 100 }",
  amount: "full, or a number of items",
  amounts: "a machine and its amount, such as { cartoner: 100 }",
  among: "all, or a few such as first 3 or last 3",
  "hold-until": "own-full, all-full, or a duration such as 5 min",
  "tail-until": "tail-full, or a duration such as 5 min",
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

function example(key: string): string | undefined {
  return EXPECTATIONS[EXAMPLES[key] ?? ""];
}

function expectation(kind: string): string {
  return EXPECTATIONS[kind] ?? kind;
}

function units(kind: string, number: string): string {
  const candidates = isQuantity(kind) ? unitsOf(kind) : [];
  return candidates.map((unit) => clean(`${number}${unit.startsWith("/") ? "" : " "}${unit}`, 60)).join(", ");
}

function many(count: string, noun: string): string {
  return count === "1" ? `1 ${noun}` : `${count} ${noun}s`;
}

function isQuantity(kind: string): kind is QuantityKind {
  return kind === "rate" || kind === "duration" || kind === "length" || kind === "speed" || kind === "percentage";
}

function meant(nearest: string, otherwise: string): string {
  return nearest === "" ? otherwise : `, did you mean ${quote(nearest)}?`;
}

function quote(text: string): string {
  return `"${clean(text, 60)}"`;
}

/** What a file holds is printed on terminals: nothing in it may move the cursor or turn the writing round. */
function clean(text: string, length: number): string {
  const shown = text.length > length ? `${text.slice(0, length)}…` : text;
  return shown.replace(/[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]/gu, (character) => {
    return `\\u${(character.codePointAt(0) ?? 0).toString(16).padStart(4, "0")}`;
  });
}
