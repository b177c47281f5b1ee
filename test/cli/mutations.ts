/** Scenario files that someone spoiled: a few edits to a good one, such as slips, wild numbers and malice. */
import fc from "fast-check";

type Edit = (text: string) => string;

/** A position, as a share, so that it fits a text of any length. */
const share = fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true });
const at = (length: number, where: number): number => Math.floor(length * where);

const overLines = (change: (lines: string[], from: number, to: number) => void): fc.Arbitrary<Edit> =>
  fc.tuple(share, share).map(([a, b]) => (text) => {
    const lines = text.split("\n");
    change(lines, at(lines.length, a), at(lines.length, b));
    return lines.join("\n");
  });

/** Puts something in the place of one of the matches. */
const replacing = (pattern: RegExp, by: fc.Arbitrary<string>): fc.Arbitrary<Edit> =>
  fc.tuple(share, by).map(([where, put]) => (text) => {
    const matches = [...text.matchAll(pattern)];
    const match = matches[at(matches.length, where)];
    return match ? text.slice(0, match.index) + put + text.slice(match.index + match[0].length) : text;
  });

const NUMBERS = [
  "0",
  "-1",
  "1",
  "2",
  "3",
  "7",
  "1000",
  "0.001",
  "1/3",
  "45/4",
  "1/0",
  "0/1",
  "9".repeat(25),
  "1/999983",
];
const MORE_NUMBERS = ["1000000", "999983", "20000", "0.000000001", "1e3", "1e999", ".5", "0x10", "-0", ".inf", ".nan"];
const UNITS = [
  "/min",
  "/s",
  "/h",
  "/d",
  " s",
  " ms",
  " min",
  " h",
  " d",
  " m",
  " mm",
  " m/min",
  " %",
  "",
  " /min /min",
];
const KEYS = [
  "feeds",
  "machines",
  "lines",
  "outlets",
  "count",
  "cycle",
  "takes",
  "makes",
  "infeed",
  "outfeed",
  "speed",
];
const MORE_KEYS = ["layout", "from", "to", "belt", "branch", "dividers", "merges", "belts", "rate", "item", "profile"];
const PLANT_KEYS = [
  "items",
  "order",
  "batch",
  "every",
  "first",
  "surge",
  "collect",
  "end",
  "return",
  "limits",
  "at",
  "floor",
];
const WORDS = ["chain", "custom", "tree", "even", "ordered", "weighted", "stop", "return", "none", "auto", "sealer-3"];
const PLANT_WORDS = ["spread", "blocks", "belt-first", "joining-first", "through-first", "branch-first", "sealer"];
const MALICE = [
  `deep: ${"[".repeat(3000)}`,
  `deep: ${"{ a: ".repeat(60)}1${" }".repeat(60)}`,
  "a: &a [x, x]\nb: &b [*a, *a]\nc: &c [*b, *b]\nd: &d [*c, *c]\ne: [*d, *d]",
  "loop: &loop { again: *loop }",
  "__proto__: { polluted: true }",
  "constructor: { prototype: 1 }",
  "? [a, b] : c",
  "title: !!binary aGVsbG8=",
  "%YAML 9.9",
  "---",
  "\t\t- x",
  "title: |\n  a\n  b",
  "title: '",
  "limits: { hold-up: 1 }",
  "floor: { machine: { length: 0 m }, belt: 9 km, aisle: -1 m }",
  "limits: { at: { main: { pouch: 1 }, __proto__: { pouch: 1 } }, dwell: { constructor: 1 s } }",
  "feeds: { more: { items: { red: 9999, blue: 1 }, batch: { every: 1 min, items: 1, rate: 1/min }, surge: 1 } }",
  "    end: return",
  "    surge: 100000",
  "tactics: { fast: { prefill: { x: 1 } } }",
];

const edit: fc.Arbitrary<Edit> = fc.oneof(
  overLines((lines, from) => lines.splice(from, 1)),
  overLines((lines, from, to) => lines.splice(to, 0, lines[from] ?? "")),
  overLines((lines, from, to) => {
    [lines[from], lines[to]] = [lines[to] ?? "", lines[from] ?? ""];
  }),
  overLines((lines, from) => {
    lines[from] = ` ${lines[from] ?? ""}`;
  }),
  { weight: 4, arbitrary: replacing(/\d+(?:\.\d+)?/g, fc.constantFrom(...NUMBERS, ...MORE_NUMBERS)) },
  { weight: 2, arbitrary: replacing(/(?<=\d) ?(?:\/min|\/s|m\/min|min|ms|mm|s|h|m|%)/g, fc.constantFrom(...UNITS)) },
  replacing(
    /[a-z][a-z-]*(?=:)/g,
    fc.oneof(fc.constantFrom(...KEYS, ...MORE_KEYS, ...PLANT_KEYS), fc.string({ maxLength: 8 })),
  ),
  replacing(
    /(?<=: |\[)[a-z][a-z0-9-]*/g,
    fc.oneof(fc.constantFrom(...WORDS, ...PLANT_WORDS, ...KEYS), fc.string({ maxLength: 8 })),
  ),
  overLines((lines, from) => lines.splice(from)),
  fc.tuple(share, fc.constantFrom(...MALICE)).map(([where, line]): Edit => {
    return (text) => {
      const lines = text.split("\n");
      lines.splice(at(lines.length, where), 0, line);
      return lines.join("\n");
    };
  }),
  fc.tuple(share, fc.string({ unit: "binary", maxLength: 6 })).map(([where, noise]): Edit => {
    return (text) => text.slice(0, at(text.length, where)) + noise + text.slice(at(text.length, where));
  }),
);

/** One to four edits to one of the texts. */
export function spoiled(texts: readonly string[]): fc.Arbitrary<string> {
  return fc
    .tuple(fc.constantFrom(...texts), fc.array(edit, { minLength: 1, maxLength: 4 }))
    .map(([text, edits]) => edits.reduce((changed, change) => change(changed), text));
}
