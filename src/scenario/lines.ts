/** Lines, each layout in a file of its own, and what all of them together may hold. */
import * as z from "zod/mini";
import { CHAIN } from "./chain-line.ts";
import { CUSTOM } from "./custom-line.ts";
import { MAX_BELT_ITEMS_IN_ALL, MAX_CHAIN_ELEMENTS, MAX_CUSTOM_ELEMENTS } from "./file-limits.ts";
import { LANES } from "./lanes-line.ts";
import type { Layout } from "./layout.ts";
import type { LineForm, LineGiven, RawPlant, WrittenPlant } from "./line-parts.ts";
import { inFileOrder, type Reading } from "./reading.ts";
import { createReferences } from "./references.ts";
import type { Line, LineOf } from "./scenario.ts";
import { LOOP, TREE } from "./shared-lines.ts";

/** In the order in which editors propose them. */
const ALL = { chain: CHAIN, tree: TREE, loop: LOOP, lanes: LANES, custom: CUSTOM };
type Shapes = { readonly [L in Layout]: (typeof ALL)[L]["shape"] };
const FORMS: { readonly [L in Layout]: LineForm<L, Shapes[L]> } = ALL;

export const lineShape = z.discriminatedUnion("layout", shapesOf(Object.values(ALL)), { error: "layout" });

function shapesOf<F extends { readonly shape: unknown }>([first, ...others]: readonly F[]): [
  F["shape"],
  ...F["shape"][],
] {
  if (first === undefined) throw new Error("there are no layouts");
  return [first.shape, ...others.map(({ shape }) => shape)];
}

function readAs<L extends Layout>(layout: L, id: string, stated: z.output<Shapes[L]>, given: LineGiven): Line | null {
  return FORMS[layout].read(id, stated, given);
}

function bodyAs<L extends Layout>(layout: L, line: LineOf<L>, plant: WrittenPlant): object {
  return FORMS[layout].body(line, plant);
}

/** A line as its entry in the file. */
export function lineBody(line: Line, plant: WrittenPlant): object {
  return bodyAs(line.layout, line, plant);
}

interface RawLines extends RawPlant {
  readonly feeds: Readonly<Record<string, { readonly surge?: number | undefined }>>;
  readonly lines: Readonly<Record<string, z.output<typeof lineShape>>>;
}

/** Lines with a fault are left out. */
export function readLines(raw: RawLines, reading: Reading): Line[] {
  const references = createReferences(reading);
  const given = { raw, references, reading };
  const lines: Line[] = [];
  const elementsOf = createCount(reading);
  let elements = 0;
  for (const [id, line] of inFileOrder(reading.root, ["lines"], raw.lines)) {
    if (line.layout !== "custom") {
      const [sources, consumers] = [elementsOf(line.from), elementsOf(line.to)];
      elements += 3 * (line.layout === "lanes" ? sources * consumers : sources + consumers);
      // Not even looked at: a short file may list every machine in every line.
      if (elements > MAX_CHAIN_ELEMENTS) continue;
    }
    const read = readAs(line.layout, id, line, given);
    if (read !== null) lines.push(read);
  }
  if (elements > MAX_CHAIN_ELEMENTS) {
    const args = { found: String(elements), limit: String(MAX_CHAIN_ELEMENTS), what: "dividers, merges and belts" };
    reading.findings.report("too-many", args, ["lines"]);
  }
  references.reportUnusedFeeds(raw.feeds);
  checkSize(raw, lines, reading);
  return lines;
}

/** Counts the elements of names, a group's machines each by itself. */
function createCount({ names }: Reading): (listed: readonly string[]) => number {
  return (listed) => listed.reduce((count, name) => count + Math.max(1, names.get(name)?.ids.length ?? 0), 0);
}

/**
 * Items on belts, were all of them full: a stretch of the through belt and a branch for each consumer, a stretch of the
 * collecting belt for each source, the return, and the surge buffers.
 */
function checkSize(raw: RawLines, lines: readonly Line[], reading: Reading): void {
  const { findings, names, root } = reading;
  let elements = 0;
  let items = 0;
  const elementsOf = createCount(reading);
  for (const [, { surge = 0 }] of inFileOrder(root, ["feeds"], raw.feeds)) items += surge;
  for (const line of lines) {
    if (line.layout === "custom") {
      elements += line.dividers.length + line.merges.length + line.belts.length;
      for (const { belt } of line.belts) items += belt?.capacity ?? 0;
      continue;
    }
    // How many belts the other layouts have hangs on needs and dividers; the network is looked at later.
    if (line.layout !== "chain") continue;
    const { belt, branch, collect, end } = line;
    const past = end.kind === "stop" ? 0 : 1;
    items += (elementsOf(line.to) + past) * ((belt?.capacity ?? 0) + (branch?.capacity ?? 0));
    if (end.kind === "return" || line.from.some((name) => names.get(name)?.kind !== "feed")) {
      items += elementsOf(line.from) * ((collect?.capacity ?? 0) + (branch?.capacity ?? 0));
    }
    if (end.kind === "return") items += end.belt.capacity;
  }
  if (elements > MAX_CUSTOM_ELEMENTS) {
    const args = { found: String(elements), limit: String(MAX_CUSTOM_ELEMENTS), what: "dividers, merges and belts" };
    findings.report("too-many", args, ["lines"]);
  }
  if (items > MAX_BELT_ITEMS_IN_ALL) {
    const args = {
      found: String(items),
      limit: String(MAX_BELT_ITEMS_IN_ALL),
      what: "items on all belts and in surge buffers together",
    };
    findings.report("too-many", args, ["lines"]);
  }
}
