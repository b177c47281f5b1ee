/**
 * Lines that carry several kinds: by how much their mix may be off before it holds up the line.
 *
 * A belt keeps its items in order, so a kind of which more comes than is taken holds up all that is behind it: the line
 * then passes only min over kinds of (taken / share). With F items per minute offered of which kind k has the share s,
 * and machines that take at most t per minute of it alone, the line passes all as long as F s ≤ t for every k. Let one
 * share rise by a part m of itself, the others falling in proportion, F staying: it holds up the line beyond
 *
 *     m = t / (F s) − 1,   but never where F ≤ t.
 *
 * The least m of all kinds is the margin. Three cases need no figures:
 *
 * - Machines that take kinds of the line together use them up in a fixed proportion. Whatever of one kind comes above
 *   it fills buffers and belts at last, however small: the margin is 0 (the rule errs on the safe side where others on
 *   the line take one of the kinds alone, since they take it first come, first served). But where all other kinds taken
 *   with it have an outlet, behind dividers that serve the machines first, too much of those leaves: then only its own
 *   share must not rise above the proportion.
 * - Where a kind can come to a place from which nobody who takes it can be reached, it stands there for ever. An even
 *   divider on the way sends some of it there in its turn, whatever the mix: the margin is 0. An ordered one sends it
 *   there only once its first outlets take no more: the margin is as above.
 * - A kind that an outlet takes has somewhere to go at any rate and never holds up the line, if the outlet can be reached
 *   from every belt that it shares with other kinds. A return belt is no such
 *   way: what nobody takes stays in the loop and fills it.
 */
import { offeredPerMin, sharesOf } from "../network/feeds.ts";
import type { Connection, MachineElement, Network } from "../network/network.ts";
import { groupBy } from "../quantity/counts.ts";
import { approximate, exact, larger, ONE, type Rational, smaller, sum, whole, ZERO } from "../quantity/rational.ts";
import type { LongRun } from "./long-run.ts";
import { mixedKinds } from "./mixed-lines.ts";
import type { Jam, Mix, MixRule } from "./plant-results.ts";
import { reaching, takesKind } from "./reaching.ts";
import type { SettledView } from "./settled-view.ts";
import { type Ways, waysOf } from "./ways.ts";

interface Kind {
  readonly item: string;
  readonly offered: Rational;
  /** `null`: an outlet takes any rate. */
  readonly takeable: Rational | null;
  /** The most of it that can be taken beside what comes of kinds that are taken with it. */
  readonly beside: Rational | null;
  readonly rule: MixRule;
  readonly takers: readonly MachineElement[];
  /** Some of it goes to an outlet although machines would take it. */
  readonly leaks: boolean;
  /** The greatest share of all that comes, by the other kinds that are taken with it; `null` for none. */
  readonly mostShare: Rational | null;
}

export interface FoundMixes {
  readonly mixes: readonly Mix[];
  /** By line, the kind of which most comes against what is taken. */
  readonly inTheWay: ReadonlyMap<string, InTheWay>;
}

export interface InTheWay {
  readonly item: string;
  /** More of it comes than is taken. */
  readonly isTooMuch: boolean;
}

/** @param jams `null` where none could be proved */
export function findMixes(
  network: Network,
  longRun: LongRun,
  view: SettledView | null,
  jams: readonly Jam[] | null,
): FoundMixes {
  const ways = waysOf(network);
  const inTheWay = new Map<string, InTheWay>();
  const mixes = network.lines.flatMap((line): Mix[] => {
    const connections = network.connections.filter((connection) => connection.line === line);
    const mixed = mixedKinds(network, ways, connections);
    if (mixed.length < 2) return [];
    const alone = mixed.map((item): Kind => kindOn(network, ways, connections, item, mixed, longRun, view));
    const kinds = alone.map((kind) => ({ ...withFreePartners(kind, alone), beside: besideOthers(kind, alone) }));
    const most = kinds.reduce<Kind | null>(
      (worst, kind) => (worst && pressure(worst) >= pressure(kind) ? worst : kind),
      null,
    );
    if (most !== null && most.takeable !== null) {
      inTheWay.set(line, { item: most.item, isTooMuch: pressure(most) > 1 });
    }
    const own = (jams ?? []).filter((one) => one.line === line);
    const jam = own.find(({ item }) => item === most?.item) ?? own[0];
    const judgement = judged(kinds);
    const jammed = jam && { nearest: jam.item, margin: "0" };
    return [{ line, jams: jams && jam !== undefined, ...judgement, ...jammed }];
  });
  return { mixes, inTheWay };
}

function judged(kinds: readonly Kind[]): Omit<Mix, "line" | "jams"> {
  const listed = kinds.map(({ item, offered, takeable, beside }) => ({
    item,
    offered_per_min: exact(offered),
    takeable_per_min: takeable && exact(takeable),
    beside_per_min: beside && exact(beside),
  }));
  const margins = kinds.flatMap((kind) => {
    const margin = marginOf(kind, sum(kinds.map(({ offered }) => offered)));
    return margin === null ? [] : [{ kind, margin }];
  });
  const least = margins.reduce<(typeof margins)[number] | null>((one, other) => {
    if (one === null) return other;
    const order = other.margin.compare(one.margin) || strictness(other.kind) - strictness(one.kind);
    return order < 0 ? other : one;
  }, null);
  return {
    kinds: listed,
    nearest: least?.kind.item ?? null,
    margin: least && exact(least.margin),
    rule: least?.kind.rule ?? (kinds.every(({ takeable }) => takeable === null) ? "outlet" : "shares"),
  };
}

/** What can't be helped by another mix is named before what can. */
function strictness({ rule }: Kind): number {
  return ["dead-end", "proportion", "shares", "outlet"].indexOf(rule);
}

/** @param total of all kinds, items per minute */
function marginOf({ offered, takeable, rule, mostShare }: Kind, total: Rational): Rational | null {
  if (takeable === null || offered.n === 0n) return null;
  if (rule !== "shares") return ZERO;
  const limits = [...(total.compare(takeable) <= 0 ? [] : [takeable]), ...(mostShare ? [mostShare.mul(total)] : [])];
  const [first, ...others] = limits;
  return first === undefined ? null : larger(ZERO, others.reduce(smaller, first).div(offered).sub(ONE));
}

/**
 * Of a kind that is taken together with others, all of which have an outlet, by machines of one proportion: the share y of
 * it that they can follow, the others falling in proportion, is that at which one of them comes just as it is taken.
 */
function withFreePartners(kind: Kind, kinds: readonly Kind[]): Kind {
  if (kind.rule !== "proportion") return kind;
  const total = sum(kinds.map(({ offered }) => offered));
  const rest = total.sub(kind.offered);
  const partners = kinds.filter(
    ({ item }) => item !== kind.item && kind.takers.some((machine) => countOf(machine, item) > 0),
  );
  const limits = partners.flatMap(({ item, offered, takeable, leaks, takers }): Rational[] => {
    const [first, ...others] = kind.takers;
    if (first === undefined || takeable !== null || leaks || takers.length !== kind.takers.length || rest.n === 0n)
      return [];
    const [own, other] = [countOf(first, kind.item), countOf(first, item)];
    if (other === 0 || others.some((one) => countOf(one, kind.item) * other !== countOf(one, item) * own)) return [];
    const perRest = offered.div(rest).mul(whole(own)).div(whole(other));
    return [perRest.div(perRest.add(ONE))];
  });
  const [first, ...others] = limits;
  if (first === undefined || limits.length < partners.length) return kind;
  return { ...kind, rule: "shares", mostShare: others.reduce(smaller, first) };
}

/** What comes against what is taken; above 1 it holds up the line. */
function pressure({ offered, beside }: Kind): number {
  if (beside === null || offered.n === 0n) return 0;
  return beside.n === 0n ? Number.POSITIVE_INFINITY : approximate(offered.div(beside));
}

/**
 * What machines can take of a kind while they get no more than comes of the others: those that take it with another one, no
 * more than goes with that, in the proportion of the one that needs most of it; the rest, their full need.
 */
function besideOthers({ item, takeable, takers }: Kind, kinds: readonly Kind[]): Rational | null {
  if (takeable === null) return null;
  const limits = kinds.flatMap((other): Rational[] => {
    const together = takers.filter((machine) => countOf(machine, other.item) > 0);
    if (other.item === item || together.length === 0) return [];
    const ratios = together.map((machine) => whole(countOf(machine, item)).div(whole(countOf(machine, other.item))));
    const alone = takers.filter((machine) => !together.includes(machine));
    const need = alone.map((machine) => whole(countOf(machine, item)).div(machine.cycleMin));
    return [other.offered.mul(ratios.reduce(larger, ZERO)).add(sum(need))];
  });
  return limits.reduce(smaller, takeable);
}

function countOf({ takes }: MachineElement, item: string): number {
  return takes.find((one) => one.item === item)?.count ?? 0;
}

/** Kinds that share a connection of the line with another one, in the network's order. */
function kindOn(
  network: Network,
  ways: Ways,
  connections: readonly Connection[],
  item: string,
  mixed: readonly string[],
  longRun: LongRun,
  view: SettledView | null,
): Kind {
  const own = connections.filter((connection) => ways.carries(connection, item));
  const givers = new Set(own.map(({ from }) => from));
  const takers = new Set(own.map(({ to }) => to));
  const offers = [...givers].map((id) => offerOf(ways, id, item, longRun, view));
  const free = reaching(own, (node) => ways.outlet(node) !== undefined && takesKind(ways, node, item));
  const others = mixed.filter((other) => other !== item);
  const shared = own.filter(
    (connection) => connection.belt !== null && others.some((other) => ways.carries(connection, other)),
  );
  const hasOutlet = free.size > 0 && shared.every(({ to }) => free.has(to));
  const machines = network.machines.filter(({ id }) => takers.has(id));
  const takes = machines.flatMap((machine) => {
    const taken = machine.takes.find((one) => one.item === item);
    return taken === undefined ? [] : [{ machine, perMin: whole(taken.count).div(machine.cycleMin) }];
  });
  const together = takes.some(({ machine }) => machine.takes.some((other) => others.includes(other.item)));
  const isDead = leadsAstray(network, own, ways, (node) => takesKind(ways, node, item));
  return {
    item,
    offered: sum(offers),
    takeable: hasOutlet && !isDead ? null : sum(takes.map(({ perMin }) => perMin)),
    beside: null,
    rule: isDead ? "dead-end" : hasOutlet ? "outlet" : together ? "proportion" : "shares",
    takers: takes.map(({ machine }) => machine),
    leaks: leadsAstray(network, own, ways, (node) => ways.machine(node) !== undefined && takesKind(ways, node, item)),
    mostShare: null,
  };
}

/** Of a feed what it offers; of a machine what it makes, or could if it is kept waiting for room. */
function offerOf(ways: Ways, id: string, item: string, longRun: LongRun, view: SettledView | null): Rational {
  const fed = ways.feed(id);
  if (fed !== undefined) {
    const share = sharesOf(fed.feed).find((one) => one.item === item)?.share ?? ZERO;
    return offeredPerMin(fed.feed).mul(share);
  }
  const maker = ways.machine(id);
  const made = maker?.machine.makes.find((one) => one.item === item);
  if (maker === undefined || made === undefined) return ZERO;
  const isBlocked = view?.waits[maker.index]?.some(({ state }) => state === "blocked") ?? true;
  const cycles = (isBlocked ? null : longRun.exactCycles?.[maker.index]) ?? longRun.fullCycles[maker.index] ?? ZERO;
  return cycles.mul(whole(made.count));
}

/**
 * Whether a kind comes to a place from which no goal can be reached, although others could be: by an even divider's turn,
 * by an ordered one that names that way sooner, or without any choice.
 * @param own the connections that it comes along
 */
function leadsAstray(
  { dividers }: Network,
  own: readonly Connection[],
  ways: Ways,
  isGoal: (node: string) => boolean,
): boolean {
  const good = reaching(own, isGoal);
  const even = new Set(dividers.filter(({ rule }) => rule === "even").map(({ id }) => id));
  return [...groupBy(own, ({ from }) => from)].some(([from, outlets]) => {
    const isGood = outlets.map(({ to }) => good.has(to));
    if (!isGood.includes(false)) return false;
    if (!isGood.includes(true)) return ways.feed(from) !== undefined || ways.machine(from) !== undefined;
    return even.has(from) || isGood.indexOf(false) < isGood.lastIndexOf(true);
  });
}
