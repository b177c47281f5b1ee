/** A custom line: its dividers, merges and belts as the file names them one by one. */
import * as z from "zod/mini";
import { commonDivisor } from "../quantity/counts.ts";
import { beltBody, beltKeys, none, readBelt } from "./belts.ts";
import { keysAt } from "./document.ts";
import type { Path } from "./file-finding.ts";
import { MOST_TURNS } from "./file-limits.ts";
import { byId, type LineForm, type LineGiven, type WrittenPlant } from "./line-parts.ts";
import { nearest } from "./nearest.ts";
import { inFileOrder, type Reading, requireEntries } from "./reading.ts";
import type { References } from "./references.ts";
import type { CustomBelt, CustomLine, Junction, Rule } from "./scenario.ts";
import { counts, keys, name, named, names, withMeta, words } from "./shape-parts.ts";

const rule = words(["even", "ordered"], "Taking turns, or the first belt in the file's order that can.");

const dividerRule = withMeta(
  z.union([rule, keys({ weighted: counts("So many turns for each belt from it.", 1, MOST_TURNS) })], {
    error: "divider-rule",
  }),
  {
    description: "even, ordered, or { weighted: { left: 3, right: 2 } }: so many turns for each belt from it.",
  },
);

const customBeltShape = withMeta(
  keys({
    from: name("A feed, a machine, or a divider or merge of this line."),
    to: name("A machine, an outlet, or a divider or merge of this line."),
    only: z.optional(names("Item kinds that it lets in; all if not stated.")),
    belt: withMeta(z.optional(none), { description: "none: a direct hand-over." }),
    ...beltKeys,
  }),
  { description: "A belt from one element to another." },
);

const customShape = withMeta(
  keys({
    layout: withMeta(z.literal("custom"), { description: "Dividers, merges and belts one by one." }),
    dividers: z.optional(named(dividerRule, "Dividers and their rules: one belt to each, two or more from it.")),
    merges: z.optional(named(rule, "Merges and their rules: two or more belts to each, one from it.")),
    belts: named(customBeltShape, "The belts, in the order of a divider's outlets and a merge's inlets.", 1),
  }),
  { description: "A network written down element by element." },
);

type RawCustom = z.output<typeof customShape>;
type RawCustomBelt = z.output<typeof customBeltShape>;

interface OpenJunction {
  readonly kind: "divider" | "merge";
  readonly path: Path;
  inlets: number;
  outlets: number;
}

/** @returns `null` if a belt has a fault */
function readCustom(id: string, raw: RawCustom, { references, reading }: LineGiven): CustomLine | null {
  const path = ["lines", id];
  const junctions = collectJunctions(path, reading);
  requireEntries(reading, [...path, "belts"], "at least one belt");
  const belts = inFileOrder(reading.root, [...path, "belts"], raw.belts).map(([beltId, belt]) =>
    readCustomBelt(beltId, belt, [...path, "belts", beltId], junctions, references, reading),
  );
  // With a belt unread, the counts would only echo its fault.
  if (!reading.findings.damaged(path)) checkJunctions(junctions, reading);
  const read = belts.filter((belt) => belt !== null);
  if (read.length < belts.length) return null;
  return {
    id,
    layout: "custom",
    dividers: dividersOf(raw, path, read, reading),
    merges: rules(raw.merges, [...path, "merges"], reading),
    belts: read,
  };
}

function dividersOf(
  { dividers }: RawCustom,
  path: Path,
  belts: readonly CustomBelt[],
  { root, findings }: Reading,
): Junction[] {
  return inFileOrder(root, [...path, "dividers"], dividers).map(([id, rule]): Junction => {
    if (typeof rule === "string") return { id, rule };
    const own = belts.filter(({ from }) => from === id).map((belt) => belt.id);
    const weights = new Map(Object.entries(rule.weighted));
    const at = [...path, "dividers", id, "weighted"];
    const [unknown, missing] = [
      [...weights.keys()].find((name) => !own.includes(name)),
      own.find((name) => !weights.has(name)),
    ];
    const args = { found: id, belts: own.join(", ") };
    if (unknown !== undefined) findings.report("weights-unknown", { ...args, belt: unknown }, [...at, unknown], "key");
    else if (missing !== undefined) findings.report("weights-missing", { ...args, belt: missing }, at, "key");
    const shared = commonDivisor([...weights.values()]);
    return { id, rule: "even", weights: own.map((name) => (weights.get(name) ?? shared) / (shared || 1)) };
  });
}

function rules(stated: Readonly<Record<string, Rule>> | undefined, path: Path, { root }: Reading): Junction[] {
  return inFileOrder(root, path, stated).map(([id, rule]) => ({ id, rule }));
}

/** Works from the document, so that a junction with a faulty rule is known all the same. */
function collectJunctions(line: Path, { root, names, findings, locate }: Reading): Map<string, OpenJunction> {
  const junctions = new Map<string, OpenJunction>();
  for (const [key, kind] of [
    ["dividers", "divider"],
    ["merges", "merge"],
  ] as const) {
    for (const id of keysAt(root, [...line, key])) {
      const path = [...line, key, id];
      const before = names.get(id)?.path ?? junctions.get(id)?.path;
      if (before === undefined) junctions.set(id, { kind, path, inlets: 0, outlets: 0 });
      else {
        const args = { found: id, line: String(locate(before, "key")?.line ?? "") };
        findings.report("duplicate-id", args, path, "key");
      }
    }
  }
  return junctions;
}

function readCustomBelt(
  id: string,
  raw: RawCustomBelt,
  path: Path,
  junctions: ReadonlyMap<string, OpenJunction>,
  references: References,
  reading: Reading,
): CustomBelt | null {
  const source = junctions.get(raw.from);
  const target = junctions.get(raw.to);
  if (source !== undefined) source.outlets++;
  if (target !== undefined) target.inlets++;
  const belt = readBelt(raw.belt ?? raw, path, reading);
  const from = source === undefined ? reference("from") : raw.from;
  const to = target === undefined ? reference("to") : raw.to;
  if (from === null || to === null || belt === undefined) return null;
  return { id, from, to, only: raw.only ?? null, belt };

  function reference(end: "from" | "to"): string | null {
    const name = raw[end];
    const at = [...path, end];
    const mistyped = isUnknown(name) ? nearest(name, junctions.keys()) : "";
    if (mistyped !== "") {
      const expected = "element";
      reading.findings.report("unknown-reference", { found: name, expected, nearest: mistyped }, at);
      return null;
    }
    return end === "from" ? references.beltSource(name, at) : references.beltTarget(name, at);
  }

  function isUnknown(name: string): boolean {
    return reading.names.get(name) === undefined && !reading.findings.full();
  }
}

function checkJunctions(junctions: ReadonlyMap<string, OpenJunction>, { findings }: Reading): void {
  for (const [id, { kind, path, inlets, outlets }] of junctions) {
    const into = { found: id, count: String(inlets) };
    const out = { found: id, count: String(outlets) };
    if (kind === "divider") {
      if (inlets !== 1) findings.report("divider-inlets", into, path, "key");
      if (outlets < 2) findings.report("divider-outlets", out, path, "key");
    } else {
      if (inlets < 2) findings.report("merge-inlets", into, path, "key");
      if (outlets !== 1) findings.report("merge-outlets", out, path, "key");
    }
  }
}

function customBody(line: CustomLine, { unit }: WrittenPlant) {
  return {
    layout: line.layout,
    dividers: byId(line.dividers, ({ id, rule, weights }) =>
      weights === undefined
        ? rule
        : {
            weighted: new Map(
              line.belts.filter(({ from }) => from === id).map((belt, i) => [belt.id, weights[i] ?? 1]),
            ),
          },
    ),
    merges: byId(line.merges, ({ rule }) => rule),
    belts: byId(line.belts, ({ from, to, only, belt }) => ({
      from,
      to,
      ...(beltBody(belt, unit) ?? { belt: "none" }),
      ...(only ? { only } : {}),
    })),
  };
}

export const CUSTOM: LineForm<"custom", typeof customShape> = {
  shape: customShape,
  read: readCustom,
  body: customBody,
};
