/** Item kinds: what is supplied must be taken, and what is taken supplied. */
import { keysAt, nodeAt } from "./document.ts";
import type { Path } from "./file-finding.ts";
import { MAX_ITEM_KINDS } from "./file-limits.ts";
import { nearest } from "./nearest.ts";
import { inFileOrder, isStated, type Reading, textAt } from "./reading.ts";
import type { RawScenario } from "./shapes.ts";

/** Every item that a section mentions; `null` if a fault in it hides one. */
interface Mentions {
  readonly supplied: ReadonlySet<string> | null;
  readonly taken: ReadonlySet<string> | null;
}

export function checkItems(raw: RawScenario, reading: Reading): void {
  const { findings, root } = reading;
  const { supplied, taken } = collectMentions(reading);
  const kinds = new Set([...(supplied ?? []), ...(taken ?? [])]);
  if (kinds.size > MAX_ITEM_KINDS) {
    const args = { found: String(kinds.size), limit: String(MAX_ITEM_KINDS), what: "kinds of item" };
    findings.report("too-many", args, ["machines"]);
    return;
  }

  function requireTaken(item: string, path: Path, at: "key" | "value"): void {
    if (taken?.has(item) === false) {
      findings.report("item-not-taken", { found: item, nearest: nearest(item, taken) }, path, at);
    }
  }
  if (taken !== null) {
    for (const [id, feed] of inFileOrder(root, ["feeds"], raw.feeds)) {
      const path = ["feeds", id];
      if (feed.item !== undefined) requireTaken(feed.item, [...path, "item"], "value");
      for (const [item] of inFileOrder(root, [...path, "items"], feed.items)) {
        requireTaken(item, [...path, "items", item], "key");
      }
    }
  }
  if (supplied === null) return;

  function requireSupplied(item: string, path: Path, at: "key" | "value"): void {
    if (supplied?.has(item) === false) {
      findings.report("unknown-item", { found: item, nearest: nearest(item, supplied) }, path, at);
    }
  }
  for (const [id, machine] of inFileOrder(root, ["machines"], raw.machines)) {
    const path = ["machines", id, "takes"];
    for (const [item] of inFileOrder(root, path, machine.takes)) requireSupplied(item, [...path, item], "key");
  }
  for (const [id, outlet] of inFileOrder(root, ["outlets"], raw.outlets)) {
    requireSupplied(outlet.item, ["outlets", id, "item"], "value");
  }
  for (const [lineId, line] of inFileOrder(root, ["lines"], raw.lines)) {
    if (line.layout !== "custom") continue;
    for (const [beltId, belt] of inFileOrder(root, ["lines", lineId, "belts"], line.belts)) {
      const path = ["lines", lineId, "belts", beltId, "only"];
      const isList = nodeAt(root, path)?.kind === "list";
      for (const [index, item] of (belt.only ?? []).entries()) {
        requireSupplied(item, isList ? [...path, index] : path, "value");
      }
    }
  }
  for (const path of [...limitMaps(reading), ["wanted"]]) {
    for (const item of keysAt(root, path)) requireSupplied(item, [...path, item], "key");
  }
}

/** The maps of limits whose keys are items; a dwell limit for every kind is no map and has none. */
function limitMaps({ root }: Reading): Path[] {
  const places = keysAt(root, ["limits", "at"]).map((place) => ["limits", "at", place]);
  return [["limits", "hold-up"], ...places, ["limits", "dwell"]];
}

/** Works from the document, so that faulty entries count too. */
function collectMentions({ root, findings }: Reading): Mentions {
  const supplied = new Set<string>();
  const taken = new Set<string>();
  let hidesSupplied = false;
  let hidesTaken = false;
  for (const id of keysAt(root, ["feeds"])) {
    const item = textAt(root, ["feeds", id, "item"]);
    const kinds = keysAt(root, ["feeds", id, "items"]);
    if (item === undefined && kinds.length === 0) hidesSupplied = true;
    if (item !== undefined) supplied.add(item);
    for (const kind of kinds) supplied.add(kind);
  }
  for (const id of keysAt(root, ["machines"])) {
    const path = ["machines", id];
    if (nodeAt(root, [...path, "takes"])?.kind !== "map") hidesTaken = true;
    if (nodeAt(root, [...path, "makes"])?.kind !== "map") hidesSupplied = true;
    for (const item of keysAt(root, [...path, "takes"])) taken.add(item);
    for (const item of keysAt(root, [...path, "makes"])) supplied.add(item);
  }
  for (const id of keysAt(root, ["outlets"])) {
    const item = textAt(root, ["outlets", id, "item"]);
    if (item === undefined) hidesTaken = true;
    else taken.add(item);
  }
  const isStatedOrNone = isStated(root, [], "machines") || (isStated(root, [], "outlets") && !findings.damaged([]));
  if (!isStated(root, [], "feeds") || !isStatedOrNone) return { supplied: null, taken: null };
  // A mistyped "outlets" would hide what leaves there.
  if (findings.damaged([]) && !isStated(root, [], "outlets")) hidesTaken = true;
  return { supplied: hidesSupplied ? null : supplied, taken: hidesTaken ? null : taken };
}
