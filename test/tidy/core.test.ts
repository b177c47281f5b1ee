/** The core is AssemblyScript, compiled by a compiler of its own: rules between it and its host. */
import { expect, test } from "vitest";
import type { Arrays, Moved } from "../../src/engine/core-arrays.ts";
import { type Source, sourceOf, sourcesIn } from "./sources.ts";

const CORE = sourcesIn("src/engine/core");

/** What a file of the core may not import. */
function wrongImports({ path, imports }: Source): string[] {
  const allowed = /^src\/(?:engine\/core\/[a-z-]+|engine\/states|network\/kinds)\.ts$/;
  return imports.filter(({ from }) => !allowed.test(from)).map(({ from }) => `${path} imports ${from}`);
}

test("the core stands on itself, and on the constants that it shares with the host", () => {
  expect(CORE.length).toBeGreaterThan(10);
  expect(CORE.flatMap(wrongImports)).toEqual([]);
});

test("the rules bite", () => {
  expect(wrongImports(sourceOf("src/engine/core/x.ts", 'import "../state.ts";'))).toHaveLength(1);
});

test("what the host gives the core is complete, of the right kind and known there, or does not compile", () => {
  const ints = new Int32Array(1);
  const right: Arrays<"timed"> = { paceDue: ints, paceLag: ints };
  // @ts-expect-error
  const missing: Arrays<"timed"> = { paceDue: ints };
  // @ts-expect-error
  const ofWrongKind: Arrays<"timed"> = { paceDue: ints, paceLag: new Float64Array(1) };
  // @ts-expect-error
  const unknown: Arrays<"timed"> = { paceDue: ints, paceLag: ints, paceLead: ints };
  // @ts-expect-error
  const withoutGroups: Moved = { timed: right };
  expect([missing, ofWrongKind, unknown, withoutGroups]).not.toContain(undefined);
});
