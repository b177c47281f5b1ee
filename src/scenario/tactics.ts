/** Priming tactics: which parts each has, which machines they are for, and whether what they place has room. */
import { keysAt } from "./document.ts";
import type { Path } from "./file-finding.ts";
import { MAX_TACTICS } from "./file-limits.ts";
import { inFileOrder, isStated, type Reading, requireEntries } from "./reading.ts";
import { createReferences, type References } from "./references.ts";
import type { Line, MachineGroup } from "./scenario.ts";
import type { RawScenario } from "./shapes.ts";
import type { Tactic } from "./tactic.ts";
import { partsFrom, type RawTactic, saysStart } from "./tactic-parts.ts";
import type { Amount, Prefill } from "./tactic-prefill.ts";
import { ALL, type Among } from "./tactic-shapes.ts";

/** Results bear this name for the run without tactics. */
const RESERVED = "none";

/** The plant that tactics are for. */
interface Plant {
  readonly lines: readonly Line[];
  readonly groups: readonly MachineGroup[];
  /** By group id and by machine id. */
  readonly groupOf: ReadonlyMap<string, MachineGroup>;
}

export function readTactics(
  raw: RawScenario,
  groups: readonly MachineGroup[],
  lines: readonly Line[],
  reading: Reading,
): Tactic[] {
  const { root, findings } = reading;
  const ids = keysAt(root, ["tactics"]);
  if (ids.length === 0) return [];
  if (ids.length > MAX_TACTICS) {
    const args = { found: String(ids.length), limit: String(MAX_TACTICS), what: "tactics" };
    findings.report("too-many", args, ["tactics"]);
    return [];
  }
  if (ids.includes(RESERVED)) findings.report("reserved-name", { found: RESERVED }, ["tactics", RESERVED], "key");
  const groupOf = new Map(groups.flatMap((group) => [group.id, ...group.members].map((id) => [id, group])));
  const plant = { lines, groups, groupOf };
  const references = createReferences(reading);
  return inFileOrder(root, ["tactics"], raw.tactics).map(([id, tactic]) =>
    readTactic(id, tactic, plant, references, reading),
  );
}

function readTactic(id: string, raw: RawTactic, plant: Plant, references: References, reading: Reading): Tactic {
  const path = ["tactics", id];
  requireEntries(reading, path, "tactic");
  // With a part unread, what goes with it would only echo its fault.
  if (!reading.findings.damaged(path)) checkKeys(raw, path, reading);
  return {
    id,
    prefill: raw.prefill === undefined ? null : readPrefill(raw, raw.prefill, path, plant, references, reading),
    ...partsFrom(raw, (name, ...at) => references.machine(name, [...path, ...at])),
  };
}

function checkKeys(raw: RawTactic, path: Path, { root, findings }: Reading): void {
  for (const key of ["prefill-of", "prefill-belts", "by-hand", "while"]) {
    if (isStated(root, path, key) && raw.prefill === undefined) {
      findings.report("needs-key", { found: key, needed: "prefill" }, [...path, key], "key");
    }
  }
  if (typeof raw.prefill === "object" && raw["prefill-of"] !== undefined) {
    findings.report("prefill-form", {}, [...path, "prefill-of"], "key");
  }
  if (raw.prefill !== undefined && (raw.while === "running" || raw.while === "before")) {
    if (raw["by-hand"] === undefined) {
      findings.report("needs-key", { found: `while: ${raw.while}`, needed: "by-hand" }, [...path, "while"]);
    }
    if (raw.while === "running" && raw["prefill-belts"] === "full")
      findings.report("belts-while-running", {}, [...path, "prefill-belts"]);
  }
  const [beside = "", ...others] = Object.keys(raw).filter(saysStart);
  for (const found of others) findings.report("two-starts", { beside, found }, [...path, found], "key");
  if (raw.hold === undefined) return;
  const { release = "together", every } = raw.hold;
  if (release !== "together" && every === undefined) {
    findings.report("missing-key", { key: "every", expected: "duration" }, [...path, "hold"]);
  }
  if (release === "together" && every !== undefined) {
    const needed = "release: head-first or tail-first";
    findings.report("needs-key", { found: "every", needed }, [...path, "hold", "every"], "key");
  }
}

function readPrefill(
  raw: RawTactic,
  stated: NonNullable<RawTactic["prefill"]>,
  tactic: Path,
  plant: Plant,
  references: References,
  reading: Reading,
): Prefill {
  const path = [...tactic, "prefill"];
  const common = {
    belts: raw["prefill-belts"] === "full",
    byHandPerMin: raw["by-hand"] ?? null,
    while: raw.while ?? "stopped",
  };
  if (typeof stated === "object") {
    requireEntries(reading, path, "amounts");
    return { amounts: { byMachine: readAmounts(stated, path, plant, references, reading) }, ...common };
  }
  const among = raw["prefill-of"] ?? ALL;
  const amount = amountOf(stated);
  checkRoom(amount, groupsAmong(among, plant), path, reading);
  return { amounts: { among, amount }, ...common };
}

function readAmounts(
  stated: Readonly<Record<string, number | "full">>,
  path: Path,
  { groupOf }: Plant,
  references: References,
  reading: Reading,
): { readonly machine: string; readonly amount: Amount }[] {
  const given = new Set<string>();
  return inFileOrder(reading.root, path, stated).map(([machine, one]) => {
    const at = [...path, machine];
    const ids = references.machines(machine, at, "key");
    if (ids.some((id) => given.has(id))) reading.findings.report("listed-twice", { found: machine }, at, "key");
    for (const id of ids) given.add(id);
    const amount = amountOf(one);
    const group = groupOf.get(machine);
    if (group !== undefined) checkRoom(amount, [group], at, reading, machine);
    return { machine, amount };
  });
}

function amountOf(stated: number | "full"): Amount {
  return stated === "full" ? null : stated;
}

/** Only a chain states its feeding order; in a custom line it comes of the network, and amounts stop at what has room. */
function groupsAmong(among: Among, { lines, groups, groupOf }: Plant): readonly MachineGroup[] {
  if (among.which === "all") return groups;
  return lines.flatMap((line) => {
    if (line.layout !== "chain") return [];
    const fed = line.to.flatMap((name) => {
      const group = groupOf.get(name);
      return group === undefined ? [] : (name === group.id ? group.members : [name]).map(() => group);
    });
    return among.which === "first" ? fed.slice(0, among.count) : fed.slice(-among.count);
  });
}

/**
 * Reports the smallest buffer that an amount does not fit in.
 * @param name what the file calls the machine, where it names one
 */
function checkRoom(
  amount: Amount,
  groups: readonly MachineGroup[],
  path: Path,
  { findings }: Reading,
  name?: string,
): void {
  if (amount === null) return;
  const [smallest] = groups
    .filter(({ id }) => !findings.damaged(["machines", id, "infeed"]))
    .flatMap(({ id, infeed }) => infeed.map(({ item, count }) => ({ machine: id, item, count })))
    .toSorted((a, b) => a.count - b.count);
  if (smallest === undefined || amount <= smallest.count) return;
  const { item, count } = smallest;
  const machine = name ?? smallest.machine;
  findings.report("amount-too-large", { found: String(amount), capacity: String(count), item, machine }, path);
}
