/** Feeds, machines and outlets share one space of names, in which a line's references are looked up. */
import { childOf, keysAt, type Node, nodeAt } from "./document.ts";
import type { FileFindings, Locate, Path } from "./file-finding.ts";
import { MAX_MACHINES } from "./file-limits.ts";
import { nearest } from "./nearest.ts";

export interface Known {
  readonly kind: "feed" | "outlet" | "machine" | "group";
  readonly path: Path;
  /** Its elements' own ids: a group's machines in order, else exactly one. Empty for a group beyond the limit. */
  readonly ids: readonly string[];
}

export interface Names {
  get(id: string): Known | undefined;
  /** The known name closest to one that is unknown, among those of the given kinds and others; "" if none is close. */
  nearestTo(id: string, kinds: readonly Known["kind"][], others?: readonly string[]): string;
}

/** Works from the document, so that a feed or machine with a fault of its own is known all the same. */
export function collectNames(root: Node, locate: Locate, findings: FileFindings): Names {
  const known = new Map<string, Known>();
  let machines = 0;

  function claim(id: string, entry: Known): void {
    const before = known.get(id);
    if (before === undefined) {
      known.set(id, entry);
      return;
    }
    const line = String(locate(before.path, "key")?.line ?? "");
    findings.report("duplicate-id", { found: id, line }, entry.path, "key");
  }

  function claimMachines(id: string, path: Path): void {
    const count = statedCount(nodeAt(root, path));
    machines += count ?? 1;
    if (machines > MAX_MACHINES) {
      const args = { found: String(machines), limit: String(MAX_MACHINES), what: "machines" };
      findings.report("too-many", args, path);
      claim(id, { kind: "group", path, ids: [] });
      return;
    }
    if (count === null) {
      claim(id, { kind: "machine", path, ids: [id] });
      return;
    }
    const members = Array.from({ length: count }, (_, index) => `${id}-${index + 1}`);
    claim(id, { kind: count === 1 ? "machine" : "group", path, ids: members });
    for (const member of members) claim(member, { kind: "machine", path, ids: [member] });
  }

  for (const id of keysAt(root, ["feeds"])) claim(id, { kind: "feed", path: ["feeds", id], ids: [id] });
  for (const id of keysAt(root, ["machines"])) claimMachines(id, ["machines", id]);
  for (const id of keysAt(root, ["outlets"])) claim(id, { kind: "outlet", path: ["outlets", id], ids: [id] });

  return {
    get: (id) => known.get(id),
    nearestTo(id, kinds, others = []) {
      const candidates = [...known].filter(([, entry]) => kinds.includes(entry.kind)).map(([name]) => name);
      return nearest(id, [...others, ...candidates]);
    },
  };
}

/** `null` where the file states none, or none that could be. */
function statedCount(group: Node | undefined): number | null {
  const count = childOf(group, "count");
  if (count?.kind !== "scalar" || typeof count.value !== "number") return null;
  return Number.isSafeInteger(count.value) && count.value >= 1 && count.value <= MAX_MACHINES ? count.value : null;
}
