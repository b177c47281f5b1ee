/**
 * The core is AssemblyScript, compiled by a compiler of its own: rules between it and its host that no compiler sees. (That
 * everything which core/memory.ts names is provided, every run shows: it would end in a LinkError.)
 */
import ts from "typescript";
import { describe, expect, test } from "vitest";
import {
  BELT,
  BELT_INTS,
  CONNECTION,
  CONNECTION_INTS,
  DIVIDER,
  DIVIDER_INTS,
  PLACE,
  PLACE_INTS,
} from "../../src/engine/records.ts";
import { nodesOf, type Source, sourceOf, sourcesIn } from "./sources.ts";

const CORE = sourcesIn("src/engine/core");

/** Of each class its fields in order, with a word of 32 bits for each. */
function fieldsOf({ tree }: Source): Map<string, string[]> {
  const found = new Map<string, string[]>();
  for (const node of nodesOf(tree)) {
    if (!ts.isClassDeclaration(node)) continue;
    const fields = node.members.filter((member) => ts.isPropertyDeclaration(member));
    found.set(
      node.name?.text ?? "",
      fields.map(({ name }) => name.getText()),
    );
  }
  return found;
}

/** Types of fields that are not a word each. */
function widerFields({ tree }: Source): string[] {
  return nodesOf(tree)
    .filter((node) => ts.isPropertyDeclaration(node))
    .map(({ type }) => type?.getText() ?? "none")
    .filter((type) => /^(?:[iu](?:8|16|64)|f64|bool|none)$/.test(type));
}

/** What a file of the core may not import. */
function wrongImports({ path, imports }: Source): string[] {
  const allowed = /^src\/(?:engine\/core\/[a-z-]+|engine\/states|network\/kinds)\.ts$/;
  return imports.filter(({ from }) => !allowed.test(from)).map(({ from }) => `${path} imports ${from}`);
}

describe("records", () => {
  const classes = fieldsOf(sourceOf("src/engine/core/records.ts"));
  test.each([
    ["Place", PLACE, PLACE_INTS],
    ["Belt", BELT, BELT_INTS],
    ["Connection", CONNECTION, CONNECTION_INTS],
    ["Divider", DIVIDER, DIVIDER_INTS],
  ])("the host's %s has the core's fields, in the same order", (name, offsets, words) => {
    const fields = classes.get(name) ?? [];
    expect(Object.entries(offsets)).toEqual(fields.map((field, i) => [field, i]));
    expect(words).toBe(fields.length);
  });

  test("are all known to the host, and of words only", () => {
    expect([...classes.keys()].sort()).toEqual(["Belt", "Connection", "Divider", "Place"]);
    expect(widerFields(sourceOf("src/engine/core/records.ts"))).toEqual([]);
  });
});

test("the core stands on itself, and on the constants that it shares with the host", () => {
  expect(CORE.length).toBeGreaterThan(10);
  expect(CORE.flatMap(wrongImports)).toEqual([]);
});

test("the rules bite", () => {
  const wrong = sourceOf(
    "src/engine/core/x.ts",
    'import "../state.ts"; class A { a: i32; b: i64; c: Belt | null; d: bool }',
  );
  expect(wrongImports(wrong)).toHaveLength(1);
  expect(fieldsOf(wrong)).toEqual(new Map([["A", ["a", "b", "c", "d"]]]));
  expect(widerFields(wrong)).toEqual(["i64", "bool"]);
});
