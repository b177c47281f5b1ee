/** Generators of files that are nearly right, and of files that are nothing of the kind. */
import fc from "fast-check";
import { LAYOUTS } from "../../src/scenario/layout.ts";
import type { RawTactic } from "../../src/scenario/tactic-parts.ts";

/** A text with up to five of its lines or characters deleted, doubled, moved or replaced. */
export function mutations(text: string): fc.Arbitrary<string> {
  const place = fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true });
  const piece = fc.oneof(
    fc.constantFrom(
      "",
      " ",
      ":",
      "- ",
      "{",
      "}",
      "[",
      "]",
      ",",
      "#",
      "&a ",
      "*a",
      "!x ",
      "|\n",
      ">",
      '"',
      "'",
      "\t",
      "\n",
    ),
    fc.constantFrom(
      "~",
      "null",
      "true",
      "0",
      "-1",
      "1e3",
      "1.5",
      "240",
      "9".repeat(400),
      "2 h",
      "30/min",
      "%",
      "<<: ",
      "? ",
    ),
    fc.constantFrom(
      "__proto__",
      "constructor",
      "blender",
      "cartoner-3",
      "\u0000",
      "\u202e",
      "\ud800",
      "é",
      "🙂",
      "../x",
      "=1+1",
    ),
    fc.string({ maxLength: 8 }),
  );
  const kind = fc.constantFrom(
    "delete line",
    "double line",
    "move line",
    "replace line",
    "delete",
    "double",
    "insert",
    "word",
  );
  const step = fc.record({ kind, at: place, to: place, piece });
  return fc.array(step, { minLength: 1, maxLength: 5 }).map((steps) => steps.reduce(mutate, text));
}

function mutate(text: string, step: { kind: string; at: number; to: number; piece: string }): string {
  const lines = text.split("\n");
  const row = Math.floor(step.at * lines.length);
  const column = Math.floor(step.at * text.length);
  switch (step.kind) {
    case "delete line":
      return lines.toSpliced(row, 1).join("\n");
    case "double line":
      return lines.toSpliced(row, 0, lines[row] ?? "").join("\n");
    case "move line":
      return lines
        .toSpliced(row, 1)
        .toSpliced(Math.floor(step.to * lines.length), 0, lines[row] ?? "")
        .join("\n");
    case "replace line":
      return lines.with(row, step.piece).join("\n");
    case "delete":
      return text.slice(0, column) + text.slice(column + 1);
    case "double":
      return text.slice(0, column + 1) + text.slice(column);
    case "insert":
      return text.slice(0, column) + step.piece + text.slice(column);
    default: {
      // Replaces a whole word or number, the likeliest slip and the one that most often stays YAML.
      const words = [...text.matchAll(/[\w./%-]+/g)];
      const word = words[Math.floor(step.at * words.length)];
      if (word === undefined) return text;
      return text.slice(0, word.index) + step.piece + text.slice(word.index + word[0].length);
    }
  }
}

/** Data in the form of a scenario, each part at times of another kind. */
export const randomScenario: fc.Arbitrary<unknown> = (() => {
  const scalar = fc.oneof(
    fc.constantFrom<unknown>("30/min", "2 s", "0 s", "3 m", "24 m/min", "100 %", "none", "auto", "even", "a", "b", "s"),
    fc.constantFrom<unknown>(1, 0, -1, 8, 1.5, 1e21, true, null, "", [], {}, ["a"], { a: 1 }),
  );
  const some = <T>(value: fc.Arbitrary<T>): fc.Arbitrary<unknown> => fc.oneof({ weight: 8, arbitrary: value }, scalar);
  const name = fc.constantFrom("a", "b", "s", "m", "m-1", "10", "2", "constructor");
  const map = (value: fc.Arbitrary<unknown>) => some(fc.dictionary(name, value, { maxKeys: 3 }));
  const record = (model: Record<string, fc.Arbitrary<unknown>>) => some(fc.record(model, { requiredKeys: [] }));
  const beltKeys = { rate: scalar, length: scalar, speed: scalar, pitch: scalar, capacity: scalar, transit: scalar };
  const feed = record({
    item: some(name),
    items: map(scalar),
    order: some(fc.constantFrom("spread", "blocks")),
    rate: scalar,
    profile: some(fc.array(record({ from: scalar, rate: scalar }))),
    batch: record({ every: scalar, items: scalar, rate: scalar, first: scalar }),
    surge: scalar,
  });
  const machine = record({
    count: scalar,
    cycle: some(fc.constant("2 s")),
    takes: map(scalar),
    makes: map(scalar),
    infeed: some(fc.oneof(scalar, map(scalar))),
    outfeed: scalar,
    speed: some(fc.array(scalar, { maxLength: 3 })),
  });
  const layout = some(fc.constantFrom(...LAYOUTS));
  const belt = record(beltKeys);
  const line = record({
    layout,
    from: some(fc.array(name, { maxLength: 3 })),
    to: some(fc.array(name, { maxLength: 3 })),
    belt,
    branch: belt,
    dividers: some(fc.oneof(fc.constant("even"), map(some(fc.constant("even"))))),
    collect: belt,
    merges: some(fc.oneof(fc.constant("belt-first"), map(scalar))),
    belts: map(record({ ...beltKeys, from: some(name), to: some(name), only: some(fc.array(name)), belt: scalar })),
    end: some(fc.constantFrom("stop", "return", "s", "a")),
    return: belt,
    ways: scalar,
  });
  const tactic = record({
    prefill: some(fc.oneof(scalar, map(scalar))),
    "prefill-of": some(fc.constantFrom("last 3", "first 0", "all")),
    "prefill-belts": some(fc.constantFrom("full", "none")),
    "by-hand": scalar,
    while: some(fc.constantFrom("before", "stopped", "running")),
    hold: record({ until: scalar, release: scalar, every: scalar }),
    stagger: record({ first: scalar, every: scalar }),
    boost: record({ to: scalar, for: scalar }),
    "low-level": record({ at: scalar, of: scalar, for: scalar }),
    metered: record({ at: scalar }),
    "far-end-first": record({ until: scalar }),
    "second-feed": record({ share: scalar, at: some(name), for: scalar }),
  } satisfies Record<keyof RawTactic, fc.Arbitrary<unknown>>);
  return record({
    title: scalar,
    horizon: scalar,
    tick: scalar,
    seed: scalar,
    feeds: map(feed),
    machines: map(machine),
    lines: map(line),
    outlets: map(record({ item: some(name) })),
    tactics: map(tactic),
    floor: record({ machine: record({ length: scalar, width: scalar }), divider: scalar, belt: scalar, aisle: scalar }),
    limits: record({ "hold-up": map(scalar), at: map(map(scalar)), dwell: fc.oneof(scalar, map(scalar)) }),
  });
})();
