/** Findings of the form of a file: its text, its keys, its quantities and its names. */
import { clean, error, example, expectation, meant, one, quote, units } from "./message-parts.ts";

export const FILE_MESSAGES = {
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
  "bad-name": error<"found">(
    (arg) =>
      `${quote(arg("found"))} is no name: letters, digits, "-" and "_", beginning with a letter or digit, at most 40`,
  ),
  "bad-text": error<"found">((arg) => `${quote(arg("found"))} holds control characters; use plain text`),
  "text-too-long": error<"found" | "limit">((arg) => `${arg("found")} characters; at most ${arg("limit")}`),
  empty: error<"expected">((arg) => `nothing is stated here; state ${expectation(arg("expected"))}`),

  // Places where a value is to be set.
  "no-such-place": error<"found" | "nearest" | "known">(
    (arg) => `nothing is called ${quote(arg("found"))} here${meant(arg("nearest"), `; there are ${arg("known")}`)}`,
  ),
  "no-keys-here": error<"found" | "key">(
    (arg) => `${clean(arg("found"), 70)} stands here, which has no ${quote(arg("key"))} in it; set it itself`,
  ),
  "no-such-index": error<"found" | "last">(
    (arg) => `a list stands here, its entries counted from 0 to ${arg("last")}; ${quote(arg("found"))} is none of them`,
  ),

  // Quantities and counts.
  "missing-unit": error<"found" | "kind">(
    (arg) => `${quote(arg("found"))} has no unit; one of: ${units(arg("kind"), arg("found"))}`,
  ),
  "unknown-unit": error<"found" | "unit" | "kind">(
    (arg) => `${quote(arg("found"))}: unknown unit ${quote(arg("unit"))}, expected ${expectation(arg("kind"))}`,
  ),
  "missing-currency": error<"found" | "kind">(
    (arg) => `${quote(arg("found"))} has no currency; expected ${expectation(arg("kind"))}`,
  ),
  "unknown-currency": error<"found" | "currency" | "nearest">(
    (arg) =>
      `${quote(arg("found"))}: no currency has the code ${quote(arg("currency"))}${meant(arg("nearest"), "; ISO 4217 has three letters for each, such as EUR")}`,
  ),
  "mixed-currencies": error<"found" | "currency">(
    (arg) => `${quote(arg("found"))}: all costs are in one currency, ${arg("currency")} above; convert it`,
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
    (arg) => `${quote(arg("found"))} is ${one(arg("is"))}; expected ${arg("expected")}`,
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

  "more-findings": error<"count">((arg) => `and ${arg("count")} more`),
};
