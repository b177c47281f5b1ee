/** Why a layout cannot be built, before it is run: shares that dividers cannot make, belts that cannot carry their part. */
import { carriedAtMost } from "../../network/headroom.ts";
import { inspect } from "../../network/inspect.ts";
import { shortArgs } from "../../network/inspect-shared.ts";
import type { Connection, Network } from "../../network/network.ts";
import { larger, type Rational, sum, ZERO } from "../../quantity/rational.ts";
import type { FileFinding } from "../../scenario/file-finding.ts";
import { sentence } from "../../scenario/messages.ts";
import type { BeltSpec, Scenario } from "../../scenario/scenario.ts";
import type { UnplayableError } from "../play.ts";
import type { Reason } from "./layout-results.ts";

/** What counts against a tree or loop; what is found elsewhere in the plant counts against no layout of the line. */
export function sharedReason(scenario: Scenario, network: Network, line: string): Reason | null {
  const found = inspect(scenario, network, () => null).filter(
    ({ path: [key, id], code, severity }) =>
      key === "lines" && id === line && (severity === "error" || code === "belt-short" || code === "nothing-returns"),
  );
  return drawnSo(found.map(told));
}

function drawnSo(findings: readonly string[]): Reason | null {
  return findings.length === 0 ? null : { why: "drawn-so", findings };
}

/** Why it cannot be run, once it is drawn up. */
export function notRun({ findings }: UnplayableError): Reason {
  return { why: "not-run", findings: findings.filter(({ severity }) => severity === "error").map(told) };
}

/** Here they are weighed, whatever their file states. */
function told({ code, args }: FileFinding): string {
  return sentence(code, { ...args, weighed: "" });
}

/** What a chain or mixture is to carry where nothing is in its way. */
export interface Loads {
  readonly connections: readonly Connection[];
  readonly flows: ReadonlyMap<string, Rational>;
  readonly input: Rational;
  /** The belts that carry their part of what comes in, however little that is; the others carry what is needed. */
  readonly isShare: (connection: string) => boolean;
  /** A machine without which the others need so much less, or `null`. */
  readonly machineOf: (lack: Rational) => string | null;
}

/** What the belts that are too slow are to carry, by the belt as it is stated. */
export type ShortBelts = ReadonlyMap<BeltSpec, ShortBelt>;

export interface ShortBelt {
  /** What passes the busiest. */
  readonly flow: Rational;
  /** How many of them are too slow. */
  readonly belts: number;
}

export function shortBelts({ connections, flows }: Pick<Loads, "connections" | "flows">): ShortBelts {
  const short = new Map<BeltSpec, ShortBelt>();
  for (const { id, belt } of connections) {
    const flow = flows.get(id);
    if (belt === null || flow === undefined || flow.compare(carriedAtMost(belt)) <= 0) continue;
    const before = short.get(belt);
    short.set(belt, { flow: larger(flow, before?.flow ?? ZERO), belts: 1 + (before?.belts ?? 0) });
  }
  return short;
}

/** Of the belts of each kind the one that lacks the most. */
export function shortBeltReason({ connections, flows, input, isShare, machineOf }: Loads, line: string): Reason | null {
  const worst = new Map<BeltSpec, { readonly id: string; readonly flow: Rational; readonly lack: Rational }>();
  for (const { id, belt } of connections) {
    const flow = flows.get(id);
    if (belt === null || flow === undefined) continue;
    const lack = flow.sub(carriedAtMost(belt));
    const before = worst.get(belt)?.lack ?? ZERO;
    if (lack.compare(before) > 0) worst.set(belt, { id, flow, lack });
  }
  const reasons = [...worst].map(([belt, { id, flow, lack }]) => {
    const ratePerMin = carriedAtMost(belt);
    const greatest = isShare(id) ? input.mul(ratePerMin).div(flow) : null;
    const cut = greatest && { input: greatest, over: input.sub(greatest), alone: machineOf(input.sub(greatest)) };
    return sentence("belt-short", shortArgs(id.slice(line.length + 1), { flow, rate: ratePerMin, lack, cut }, "exact"));
  });
  return drawnSo(reasons);
}

/** The first machine whose part of what comes in is at least so much. */
export function machineTaking(lack: Rational, input: Rational, needs: ReadonlyMap<string, Rational>): string | null {
  const all = sum(needs.values());
  if (all.compare(ZERO) === 0) return null;
  const taking = [...needs].find(([, need]) => input.mul(need).div(all).compare(lack) >= 0);
  return taking?.[0] ?? null;
}
