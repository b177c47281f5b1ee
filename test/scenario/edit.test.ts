/** A file whose value is changed reads with that value, and is the same file otherwise. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { withValue, writtenAt } from "../../src/scenario/edit.ts";
import { knobsOf } from "../../src/scenario/knobs.ts";
import { readScenario } from "../../src/scenario/read.ts";
import { ROOT } from "../tidy/sources.ts";

const FILES = readdirSync(join(ROOT, "scenarios")).filter((name) => name.endsWith(".yaml"));

test.each(FILES)("%s: every knob turns what it names", (name) => {
  const text = readFileSync(join(ROOT, "scenarios", name), "utf8");
  const read = readScenario(text);
  if (!read.ok) throw new Error(`${name} does not read`);
  const knobs = knobsOf(text, read.scenario);
  expect(knobs.length).toBeGreaterThan(2);
  for (const knob of knobs) {
    const value =
      knob.kind === "word"
        ? (knob.words.at(-1) ?? "")
        : `${Number((knob.number + knob.step).toPrecision(10))}${knob.unit}`;
    const changed = withValue(text, knob.path, value);
    expect(writtenAt(changed)(knob.path)).toBe(value);
    const before = writtenAt(text)(knob.path);
    if (before !== null) expect(withValue(changed, knob.path, before)).toBe(text);
    const after = readScenario(changed);
    // A tree of another layout may lack what it needs; a number never does.
    if (knob.kind === "number" && !(after.ok || knob.key === "count")) expect(after.findings).toEqual([]);
    expect(changed.match(/#.*$/gm)).toEqual(text.match(/#.*$/gm));
  }
});
