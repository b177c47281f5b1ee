/** The plant's own limits: what may lie where at once, and for how long. */
import { keysAt } from "./document.ts";
import type { Path } from "./file-finding.ts";
import { inFileOrder, isStated, type Reading, requireEntries } from "./reading.ts";
import { isOfFaultyGroup } from "./references.ts";
import type { HoldUpLimit, Limits } from "./scenario.ts";
import type { RawLimits, RawScenario } from "./shapes.ts";

const NONE: Limits = { holdUp: [], dwell: [] };

export function readLimits(raw: RawScenario, reading: Reading): Limits {
  const { root } = reading;
  const { limits } = raw;
  if (limits === undefined) return NONE;
  requireEntries(reading, ["limits"], "limits");
  requireEntries(reading, ["limits", "hold-up"], "items");
  requireEntries(reading, ["limits", "at"], "places");
  const holdUp = counts(null, limits["hold-up"], ["limits", "hold-up"], reading);
  const lines = new Set(keysAt(root, ["lines"]));
  for (const [place, stated] of inFileOrder(root, ["limits", "at"], limits.at)) {
    const path = ["limits", "at", place];
    requireEntries(reading, path, "items");
    checkPlace(place, lines, path, reading);
    holdUp.push(...counts(place, stated, path, reading));
  }
  return { holdUp, dwell: readDwell(limits.dwell, reading) };
}

/** Lines have names of their own, so that one may be called as a machine is. */
function checkPlace(place: string, lines: ReadonlySet<string>, path: Path, reading: Reading): void {
  const { findings, names, root } = reading;
  const known = names.get(place);
  const hasRoom = known?.kind === "feed" ? isStated(root, known.path, "surge") : known && known.kind !== "outlet";
  if (lines.has(place)) {
    if (known && hasRoom) findings.report("place-ambiguous", { found: place, is: known.kind }, path, "key");
  } else if (known === undefined) {
    if (isOfFaultyGroup(place, findings)) return;
    const near = findings.full() ? "" : names.nearestTo(place, ["machine", "group", "feed"], [...lines]);
    findings.report(
      "unknown-reference",
      { found: place, expected: "line, machine or feed", nearest: near },
      path,
      "key",
    );
  } else if (known.kind === "outlet") {
    const expected = "a line, a machine, or a feed with a surge buffer";
    findings.report("wrong-reference", { found: place, is: known.kind, expected }, path, "key");
  } else if (!hasRoom && !findings.damaged(known.path)) findings.report("no-surge", { found: place }, path, "key");
}

function counts(
  place: string | null,
  stated: Readonly<Record<string, number>> | undefined,
  path: Path,
  { root }: Reading,
): HoldUpLimit[] {
  return inFileOrder(root, path, stated).map(([item, most]) => ({ place, item, most }));
}

function readDwell(stated: RawLimits["dwell"], reading: Reading): Limits["dwell"] {
  if (stated === undefined) return [];
  const path = ["limits", "dwell"];
  if ("forAll" in stated) return [{ item: null, limitMin: stated.forAll }];
  requireEntries(reading, path, "dwell");
  return inFileOrder(reading.root, path, stated.byItem).map(([item, limitMin]) => ({ item, limitMin }));
}
