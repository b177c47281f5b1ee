/** What layouts have in common: how each is stated, read and written, and what it names and collects. */
import * as z from "zod/mini";
import type { LengthUnit } from "../quantity/units.ts";
import { belt, beltBody, type RawBelt, readBelt } from "./belts.ts";
import { type Node, nodeAt } from "./document.ts";
import type { Path } from "./file-finding.ts";
import { MOST_WAYS } from "./file-limits.ts";
import type { Layout } from "./layout.ts";
import { inFileOrder, ownValue, type Reading } from "./reading.ts";
import type { References } from "./references.ts";
import type { BeltOrNone, BeltSpec, ChainEnd, ChainLine, CustomLine, Line, LineOf, MachineGroup } from "./scenario.ts";
import { withMeta, words } from "./shape-parts.ts";

/** All that the file has of a layout. */
export interface LineForm<L extends Layout, S extends z.ZodMiniType> {
  readonly shape: S;
  /** `null` where there is a fault, which has then been reported. */
  readonly read: (id: string, stated: z.output<S>, given: LineGiven) => LineOf<L> | null;
  /** The line as its entry in the file. */
  readonly body: (line: LineOf<L>, plant: WrittenPlant) => object;
}

export interface LineGiven {
  readonly raw: RawPlant;
  readonly references: References;
  readonly reading: Reading;
}

/** What the file says of machines and outlets, unchecked. */
export interface RawPlant {
  readonly machines: Readonly<Record<string, Readonly<Record<"takes" | "makes", Readonly<Record<string, number>>>>>>;
  readonly outlets?: Readonly<Record<string, { readonly item: string }>> | undefined;
}

export interface WrittenPlant {
  readonly groupOf: ReadonlyMap<string, MachineGroup>;
  readonly unit: LengthUnit;
}

const fan = z
  .int({ error: "ways" })
  .check(z.gte(2, { error: "ways" }))
  .check(z.lte(MOST_WAYS, { error: "ways" }));
export const ways = withMeta(
  z.optional(
    z.union([fan, z.array(fan, { error: "ways" }).check(z.minLength(1, { error: "ways" }))], { error: "ways" }),
  ),
  {
    default: 3,
    description:
      "How many outlets the site's dividers can have: up to 2 to 12, so that 3 is 2 and 3, or a list of those that can be had, such as [2, 5]; 3 if not stated.",
  },
);

/** A map, not an object: an object would move names that are numbers to the front. */
export function byId<T extends { readonly id: string }>(
  list: readonly T[],
  body: (one: T) => unknown,
): Map<string, unknown> {
  return new Map(list.map((one) => [one.id, body(one)]));
}

export const collectingShapes = {
  collect: z.optional(belt("The collecting belts, from merge to merge; as belt if not stated.")),
  merges: z.optional(
    words(
      ["even", "belt-first", "joining-first"],
      "How each merge of the collecting belt serves the belt and what joins it; even if not stated.",
      "even",
    ),
  ),
};

/** @returns the elements' own ids; a name's elements may be listed once */
export function readNames(
  listed: readonly string[],
  path: Path,
  idsOf: (name: string, path: Path) => readonly string[],
  { root, findings, names }: Reading,
): Set<string> {
  const ids = new Set<string>();
  for (const [index, name] of listed.entries()) {
    const at = elementPath(root, path, index);
    if (names.get(name)?.ids.some((one) => ids.has(one))) findings.report("listed-twice", { found: name }, at);
    else for (const one of idsOf(name, at)) ids.add(one);
  }
  return ids;
}

/** A list of one may be written without brackets. */
function elementPath(root: Node, path: Path, index: number): Path {
  return nodeAt(root, path)?.kind === "list" ? [...path, index] : path;
}

/** Of a layout that returns something by itself; `null` where there is a fault. */
export function readReturn(
  line: { readonly return?: RawBelt | undefined },
  belt: BeltOrNone | undefined,
  path: Path,
  reading: Reading,
): BeltSpec | null {
  const own = line.return === undefined ? belt : readBelt(line.return, [...path, "return"], reading, "");
  if (own === null) reading.findings.report("return-missing", {}, [...path, "layout"]);
  return own ?? null;
}

/** What is stated of the collecting belt means nothing where nothing is collected on one. */
export function checkCollecting(
  line: { readonly collect?: unknown; readonly merges?: unknown },
  sources: ReadonlySet<string>,
  isReturning: boolean,
  path: Path,
  { findings, names }: Reading,
): void {
  // With a source unknown, or the end, this would only echo it.
  if (findings.damaged([...path, "from"]) || findings.damaged([...path, "end"])) return;
  const feeds = [...sources].filter((id) => names.get(id)?.kind === "feed").length;
  const has = collectingOf(feeds, sources.size - feeds, isReturning);
  const report = (key: string): void => findings.report("nothing-joins", { found: key }, [...path, key], "key");
  if (line.collect !== undefined && !has.belt) report("collect");
  if (line.merges !== undefined && !has.merges) report("merges");
}

/**
 * Machines join others or feeds in merges on a collecting belt; feeds alone join without a belt. A return belt joins
 * what comes from there, which a single feed hands over without a belt.
 */
function collectingOf(feeds: number, machines: number, isReturning: boolean): { belt: boolean; merges: boolean } {
  const merges = machines > 0 && feeds + machines > 1;
  return { merges, belt: merges || (isReturning && (machines > 0 || feeds > 1)) };
}

/** Each machine that is collected makes something that somebody on the line takes. */
export function checkCollected(
  line: { readonly from: readonly string[]; readonly to: readonly string[] },
  end: ChainEnd | null,
  raw: RawPlant,
  path: Path,
  reading: Reading,
): void {
  const { findings, root } = reading;
  const ends = end?.kind === "outlet" ? [end.outlet] : [];
  const taken = new Set<string>();
  for (const name of [...line.to, ...ends]) {
    const kinds = kindsOf(name, "takes", raw, reading);
    if (kinds === null) return;
    for (const kind of kinds) taken.add(kind);
  }
  if (end === null || findings.damaged([...path, "to"])) return;
  for (const [index, name] of line.from.entries()) {
    const makes = kindsOf(name, "makes", raw, reading);
    if (makes === null || makes.length === 0 || makes.some((kind) => taken.has(kind))) continue;
    const args = { found: name, makes: makes.join(", "), takes: [...taken].join(", ") };
    findings.report("nothing-collected", args, elementPath(root, [...path, "from"], index));
  }
}

/** What a machine, a group or an outlet takes, or the first two make; `null` if the file does not say it well. */
function kindsOf(
  name: string,
  what: "takes" | "makes",
  raw: RawPlant,
  { names, findings, root }: Reading,
): readonly string[] | null {
  const known = names.get(name);
  const [section, id] = known?.path ?? [];
  if (known === undefined || typeof id !== "string") return null;
  if (section === "outlets") {
    const item = ownValue(raw.outlets, id)?.item;
    if (item === undefined || findings.damaged(known.path)) return null;
    return what === "takes" ? [item] : [];
  }
  if (section !== "machines") return [];
  const machine = ownValue(raw.machines, id);
  return machine === undefined || findings.damaged([...known.path, what])
    ? null
    : inFileOrder(root, [...known.path, what], machine[what]).map(([item]) => item);
}

/** Of every layout but the custom one. */
export function sharedKeys({ layout, from, to, belt, branch }: Exclude<Line, CustomLine>, unit: LengthUnit) {
  return { layout, from, to, belt: beltBody(belt, unit) ?? "none", branch: beltBody(branch, unit) ?? "none" };
}

/** A file states how a line collects only where it does. */
export function collectingKeys(
  { from, collect, merges }: Pick<ChainLine, "from" | "collect" | "merges">,
  isReturning: boolean,
  { groupOf, unit }: WrittenPlant,
) {
  const machines = from.flatMap((name) => {
    const group = groupOf.get(name);
    return group?.id === name ? group.members : group ? [name] : [];
  });
  const feeds = from.filter((name) => !groupOf.has(name));
  const has = collectingOf(feeds.length, machines.length, isReturning);
  return {
    ...(has.belt ? { collect: beltBody(collect, unit) ?? "none" } : {}),
    ...(has.merges ? { merges } : {}),
  };
}
