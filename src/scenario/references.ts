/** Looks up what lines and tactics refer to, and keeps count of which feed goes where. */
import type { FileFindings, Path } from "./file-finding.ts";
import { CHAIN_ENDS } from "./layout.ts";
import type { Known } from "./names.ts";
import { inFileOrder, isStated, type Reading } from "./reading.ts";

export interface References {
  /** A chain's sources by their own ids: one feed, one machine, or a group's machines. */
  chainSource(name: string, path: Path): readonly string[];
  /** A chain's consumers by their own ids: one outlet, one machine, or a group's machines. */
  chainConsumers(name: string, path: Path): readonly string[];
  /** The outlet at a chain's end, `null` if there is none of that name. */
  chainEnd(name: string, path: Path): string | null;
  /** Where a custom belt may begin beside junctions; the element's own id, `null` if there is none. */
  beltSource(name: string, path: Path): string | null;
  /** Where a custom belt may end beside junctions. */
  beltTarget(name: string, path: Path): string | null;
  /** Machines by their own ids: one, or a group's; the name may be a key. */
  machines(name: string, path: Path, at: "key" | "value"): readonly string[];
  /** The id of one machine, `null` if there is none. */
  machine(name: string, path: Path): string | null;
  reportUnusedFeeds(feeds: Readonly<Record<string, unknown>>): void;
}

type Kind = Known["kind"];

/** A group whose count is wrong has machines that nobody can list. */
export function isOfFaultyGroup(name: string, findings: FileFindings): boolean {
  const group = name.replace(/-[0-9]+$/, "");
  return group !== name && findings.damaged(["machines", group]);
}

export function createReferences({ names, findings, locate, root }: Reading): References {
  const feedUsedAt = new Map<string, Path>();

  function find(
    name: string,
    path: Path,
    kinds: readonly Kind[],
    expected: string,
    at: "key" | "value" = "value",
  ): Known | null {
    const known = names.get(name);
    if (known === undefined) {
      if (isOfFaultyGroup(name, findings)) return null;
      const nearest = findings.full() ? "" : names.nearestTo(name, kinds);
      findings.report("unknown-reference", { found: name, expected, nearest }, path, at);
      return null;
    }
    if (kinds.includes(known.kind)) return known;
    findings.report("wrong-reference", { found: name, is: known.kind, expected }, path, at);
    return null;
  }

  function useFeed(name: string, path: Path): void {
    const before = feedUsedAt.get(name);
    if (before === undefined) feedUsedAt.set(name, path);
    else findings.report("feed-twice", { found: name, line: String(locate(before)?.line ?? "") }, path);
  }

  function oneElement(name: string, known: Known, path: Path): string | null {
    const first = known.ids[0] ?? "";
    if (known.kind !== "group") return first;
    findings.report("several-machines", { found: name, first, last: known.ids.at(-1) ?? "" }, path);
    return null;
  }

  return {
    chainSource(name, path) {
      const known = find(name, path, ["feed", "machine", "group"], "feed or machine");
      if (known?.kind === "feed") useFeed(name, path);
      return known?.ids ?? [];
    },
    chainConsumers(name, path) {
      return find(name, path, ["machine", "group", "outlet"], "machine or outlet")?.ids ?? [];
    },
    chainEnd(name, path) {
      const known = names.get(name);
      if (known?.kind === "outlet") return name;
      if (known === undefined) {
        const nearest = findings.full() ? "" : names.nearestTo(name, ["outlet"], CHAIN_ENDS);
        findings.report("unknown-end", { found: name, nearest }, path);
      } else
        findings.report(
          "wrong-reference",
          { found: name, is: known.kind, expected: "stop, return or an outlet" },
          path,
        );
      return null;
    },
    beltSource(name, path) {
      const known = find(name, path, ["feed", "machine", "group"], "feed, machine, divider or merge");
      if (known === null) return null;
      if (known.kind === "feed") useFeed(name, path);
      return oneElement(name, known, path);
    },
    beltTarget(name, path) {
      const known = find(name, path, ["machine", "group", "outlet"], "machine, outlet, divider or merge");
      return known === null ? null : oneElement(name, known, path);
    },
    machines(name, path, at) {
      return find(name, path, ["machine", "group"], "machine", at)?.ids ?? [];
    },
    machine(name, path) {
      const known = find(name, path, ["machine", "group"], "machine");
      return known === null ? null : oneElement(name, known, path);
    },
    reportUnusedFeeds(feeds) {
      if (findings.damaged(["lines"]) || !isStated(root, [], "lines")) return;
      for (const [id] of inFileOrder(root, ["feeds"], feeds)) {
        if (!feedUsedAt.has(id)) findings.report("unused-feed", { found: id }, ["feeds", id], "key");
      }
    },
  };
}
