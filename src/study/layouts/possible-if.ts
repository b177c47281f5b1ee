/**
 * What would make a layout possible that cannot be built: the least change of the plant, tried in this order: faster belts, one
 * machine more or fewer, some machines cut off first.
 */
import { carriedAtMost } from "../../network/headroom.ts";
import { exactPlan } from "../../network/mixtures.ts";
import { leadsToOutlets } from "../../network/needs.ts";
import { exact, type Rational } from "../../quantity/rational.ts";
import { measuredBelt } from "../../scenario/belts.ts";
import type { BeltSpec, Scenario } from "../../scenario/scenario.ts";
import { type Candidate, type Given, givenFor, mixedCandidate } from "./candidates.ts";
import type { Assumption, Does, End } from "./layout-results.ts";
import { withMachinesLike } from "./one-more.ts";

interface Change {
  readonly assuming: Assumption;
  readonly given: Given;
}

/** And after them each that cannot be built with what would make it possible. */
export function withIfs(given: Given, candidates: readonly Candidate[]): Candidate[] {
  return [...candidates, ...candidates.flatMap((candidate) => ifPossible(given, candidate) ?? [])];
}

/** The layout with the first change that makes it possible; `null` where none does, or where none is needed. */
export function ifPossible(given: Given, candidate: Candidate): Candidate | null {
  const { reason, again, id, does, short, layout } = candidate;
  if (reason === null || again === null) return null;
  // A mixture is made of its machines; a loop in which nothing returns is a tree.
  const isTree = layout === "tree";
  const tried = [
    () => (short.size > 0 ? fasterBelts(given, short) : null),
    () => (isTree ? oneMore(given) : null),
    () => (isTree ? oneFewer(given) : null),
  ];
  for (const attempt of tried) {
    const change = attempt();
    const changed = change && again(change.given);
    if (changed && isPossible(changed)) return ifSo(changed, id, does, change.assuming);
  }
  const cut = isTree ? cutFirst(given) : null;
  return cut !== null && isPossible(cut) ? cut : null;
}

function isPossible({ reason, drawn }: Candidate): boolean {
  return reason === null && drawn !== null;
}

function fasterBelts(given: Given, short: Candidate["short"]): Change {
  const raised = new Map([...short].map(([belt, { flow }]) => [belt, faster(belt, flow)]));
  const of = <B extends BeltSpec | null>(belt: B): B | BeltSpec => (belt && raised.get(belt)) ?? belt;
  const { chain, back } = given;
  const belts = [...short].map(([belt, { flow }]) => ({ per_min: exact(flow), before: exact(carriedAtMost(belt)) }));
  return {
    assuming: { what: "faster-belts", belts },
    given: {
      ...given,
      chain: { ...chain, belt: of(chain.belt), branch: of(chain.branch), collect: of(chain.collect) },
      back: of(back),
    },
  };
}

/** The least that carries so much: as fast as before if that will do, else just fast enough. */
export function faster(belt: BeltSpec, perMin: Rational): BeltSpec {
  const { metres, transitMin } = belt;
  if (metres === null) {
    const room = Math.max(belt.capacity, Number(perMin.mul(transitMin).ceil().n));
    return { ...belt, ratePerMin: perMin, capacity: room };
  }
  const speed = perMin.mul(metres.pitchM);
  const isFast = metres.speedMPerMin.compare(speed) >= 0;
  return measuredBelt(isFast ? metres : { ...metres, speedMPerMin: speed }, perMin);
}

/** Like the last; the feed stays as it is. */
function oneMore(given: Given): Change {
  return { assuming: { what: "one-more", of: endOf(given) }, given: moreMachines(given, 1) };
}

/** What the line leads to. */
export function endOf({ consumers, plant }: Given): End {
  return leadsToOutlets(consumers, plant) ? "outlet" : "machine";
}

/** Like the last, at the end. */
export function moreMachines({ scenario, line, consumers, ways, lengths, chain, back }: Given, count: number): Given {
  const { scenario: plant, machines } = withMachinesLike(scenario, consumers.at(-1) ?? "", count);
  return changedTo({ scenario: plant, line, to: [...line.to, ...machines], ways, lengths, chain, back });
}

/** Without the last, unless that is spoken of elsewhere. */
function oneFewer(from: Given): Change | null {
  const { scenario, line, consumers, ways, lengths, chain, back } = from;
  const last = consumers.at(-1) ?? "";
  const others = scenario.lines.filter(({ id }) => id !== line.id);
  const isNamed = others.some((one) => one.layout === "custom" || [...one.from, ...one.to].includes(last));
  if (isNamed || scenario.tactics.length > 0 || consumers.length < 3) return null;
  const machines = scenario.machines.flatMap((group) => {
    const at = group.members.indexOf(last);
    if (at < 0) return [group];
    const left = { ...group, members: group.members.toSpliced(at, 1), speeds: group.speeds.toSpliced(at, 1) };
    return left.members.length === 0 ? [] : [left];
  });
  const to = consumers.slice(0, -1);
  const outlets = scenario.outlets.filter(({ id }) => id !== last);
  const given = changedTo({ scenario: { ...scenario, machines, outlets }, line, to, ways, lengths, chain, back });
  return { assuming: { what: "one-fewer", of: endOf(from) }, given };
}

interface Changed extends Pick<Given, "line" | "ways" | "lengths" | "chain" | "back"> {
  readonly scenario: Scenario;
  readonly to: readonly string[];
}

function changedTo({ scenario, line, to, ways, lengths, chain, back }: Changed): Given {
  const own = { ...line, to };
  const lines = scenario.lines.map((one) => (one.id === line.id ? own : one));
  const given = givenFor({ ...scenario, lines }, own, ways, lengths);
  return { ...given, chain: { ...chain, to }, back };
}

/** The first machines fed one by one before a tree of the rest, as few as that takes. */
function cutFirst(given: Given): Candidate | null {
  const { consumers, needs, ways } = given;
  const own = [...needs.values()];
  for (let cut = 1; cut < consumers.length - 1; cut++) {
    const plan = exactPlan(own.slice(cut), ways);
    if (plan === null) continue;
    const before = consumers.slice(0, cut).map((machine) => ({ machines: [machine], plan: { target: 0 } }));
    const stations = [...before, { machines: consumers.slice(cut), plan }];
    const size = consumers.length - cut;
    const changed = mixedCandidate(given, { kind: "chain-of-trees", stations }, size);
    const assuming = { what: "cut-first", cut, left: size, of: endOf(given) } as const;
    return ifSo(changed, "tree", { as: "tree", ways: null }, assuming);
  }
  return null;
}

function ifSo(changed: Candidate, id: string, does: Does, assuming: Assumption): Candidate {
  return { ...changed, id: `${id}-if`, does, assuming };
}
