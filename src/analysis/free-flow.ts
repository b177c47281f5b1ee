/**
 * The flow on every connection of a plant where nothing is held up, return loops and all, exactly: each even divider parts
 * what comes to it evenly, each merge adds up, each machine takes all that comes. That this is so is checked afterwards: no
 * machine is offered more than it needs or less of one kind than of another, and each belt carries its part, one that joins
 * others in a merge with something to spare (at its limit it would never make up for the turns it waits). The flows that
 * come back are unknowns of a linear system.
 */
import { type Graph, graphOf, sweepOf } from "../network/graph.ts";
import { carriedAtMost } from "../network/headroom.ts";
import type { Connection, MachineElement, Network } from "../network/network.ts";
import type { Rational } from "../quantity/rational.ts";
import { type Equation, solveLinear } from "./flow/linear.ts";
import { ALL, type Amount, amountOf, countOf, minus, NONE, over, plus, rationalOf, times } from "./flow/number.ts";
import { mixedKinds } from "./mixed-lines.ts";
import { type Ways, waysOf } from "./ways.ts";

/** @returns by connection; `null` where something is or may be held up, and where a feed changes or kinds share a belt */
export function freeFlow(network: Network): ReadonlyMap<string, Rational> | null {
  const isSteady = network.feeds.every(({ profile, batch }) => profile.length === 1 && batch === null);
  const ways = waysOf(network);
  if (!isSteady || mixedKinds(network, ways, network.connections).length > 0) return null;
  const graph = graphOf(network);
  const sweep = sweepOf(graph);
  const terms = termsOf(network, graph, ways, sweep);
  if (terms === null) return null;
  const returned = solveLinear(
    sweep.cuts.map(({ id }, index) => {
      const { coefficients, constant } = terms.get(id) ?? ZERO_TERM;
      return equation(added([{ coefficients, constant }, unknown(index, minus(NONE, ALL))]));
    }),
  );
  if (returned === null) return null;
  const flows = new Map<string, Rational>();
  for (const { id } of network.connections) {
    const { coefficients, constant } = terms.get(id) ?? ZERO_TERM;
    const flow = [...coefficients].reduce((all, [index, share]) => {
      return plus(all, times(share, returned[index] ?? NONE));
    }, constant);
    flows.set(id, rationalOf(flow));
  }
  return isFree(network, graph, ways, flows) ? flows : null;
}

/** A flow as a constant and multiples of what comes back. */
type Term = Readonly<Equation>;

const ZERO_TERM: Term = { coefficients: new Map(), constant: NONE };

function unknown(index: number, factor: Amount): Term {
  return { coefficients: new Map([[index, factor]]), constant: NONE };
}

function added(terms: readonly Term[]): Term {
  const coefficients = new Map<number, Amount>();
  for (const term of terms) {
    for (const [index, factor] of term.coefficients) {
      coefficients.set(index, plus(coefficients.get(index) ?? NONE, factor));
    }
  }
  return { coefficients, constant: terms.reduce((all, { constant }) => plus(all, constant), NONE) };
}

function scaled({ coefficients, constant }: Term, factor: Amount): Term {
  return {
    coefficients: new Map([...coefficients].map(([index, one]) => [index, times(one, factor)])),
    constant: times(constant, factor),
  };
}

/** That a term is zero. */
function equation({ coefficients, constant }: Term): Equation {
  return {
    coefficients: new Map([...coefficients].filter(([, factor]) => factor.n !== 0n)),
    constant: minus(NONE, constant),
  };
}

/** By connection; `null` where an element does not pass on evenly what comes to it. */
function termsOf(
  network: Network,
  graph: Graph,
  ways: Ways,
  { order, cuts }: ReturnType<typeof sweepOf>,
): Map<string, Term> | null {
  const terms = new Map<string, Term>();
  const cut = new Map(cuts.map(({ id }, index) => [id, unknown(index, ALL)]));
  const sumInto = (connections: readonly Connection[]): Term =>
    added(connections.map(({ id }) => cut.get(id) ?? terms.get(id) ?? ZERO_TERM));
  for (const node of order.toReversed()) {
    const feed = ways.feed(node)?.feed;
    const machine = ways.machine(node)?.machine;
    const outlets = graph.outOf(node).filter((connection) => kindOf(connection, network, ways) !== null);
    if (feed) {
      if (outlets.length !== 1) return null;
      const [first] = feed.profile;
      for (const { id } of outlets)
        terms.set(id, { ...ZERO_TERM, constant: first ? amountOf(first.ratePerMin) : NONE });
    } else if (machine) {
      const [taken] = machine.takes;
      const inflow = taken ? sumInto(ways.into(node, taken.item)) : ZERO_TERM;
      const cycles = scaled(inflow, over(ALL, countOf(taken?.count ?? 1)));
      const kinds = new Set<string>();
      for (const connection of outlets) {
        const made = machine.makes.find(({ item }) => item === kindOf(connection, network, ways));
        // Which of several lines takes how much of a machine's product is not a matter of even shares.
        if (made === undefined || kinds.has(made.item)) return null;
        kinds.add(made.item);
        terms.set(connection.id, scaled(cycles, countOf(made.count)));
      }
    } else if (graph.into(node).length > 0 && graph.outOf(node).length > 0) {
      if (outlets.length === 0 || (outlets.length > 1 && ways.divider(node)?.rule !== "even")) return null;
      const all = graph.outOf(node);
      const { weights } = ways.divider(node) ?? {};
      const weightOf = (outlet: Connection): number => weights?.[all.indexOf(outlet)] ?? 1;
      const sum = outlets.reduce((total, outlet) => total + weightOf(outlet), 0);
      const inflow = sumInto(graph.into(node));
      for (const outlet of outlets) terms.set(outlet.id, scaled(inflow, over(countOf(weightOf(outlet)), countOf(sum))));
    }
  }
  return terms;
}

function kindOf(connection: Connection, { items }: Network, { carries }: Ways): string | null {
  return items.find((item) => carries(connection, item)) ?? null;
}

/** Whether everything goes on at these flows. */
function isFree(network: Network, graph: Graph, ways: Ways, flows: ReadonlyMap<string, Rational>): boolean {
  const merges = new Set(network.merges.map(({ id }) => id).filter((id) => graph.into(id).length > 1));
  const flowOf = ({ id }: Connection): Amount => {
    const flow = flows.get(id);
    return flow ? amountOf(flow) : NONE;
  };
  const carries = (connection: Connection): boolean => {
    const { belt, to } = connection;
    const kind = kindOf(connection, network, ways);
    const takes = ways.machine(to)?.machine.takes;
    const outlet = ways.outlet(to);
    if (takes && kind !== null && !takes.some(({ item }) => item === kind)) return false;
    if (outlet && kind !== null && outlet.item !== null && outlet.item !== kind) return false;
    if (belt === null) return true;
    const spare = minus(amountOf(carriedAtMost(belt)), flowOf(connection)).n;
    return merges.has(to) ? spare > 0n : spare >= 0n;
  };
  const takesAll = (machine: MachineElement): boolean => {
    const cycles = machine.takes.map(({ item, count }) => {
      const inflow = ways.into(machine.id, item).reduce((all, one) => plus(all, flowOf(one)), NONE);
      return over(inflow, countOf(count));
    });
    const [first = NONE] = cycles;
    const most = over(ALL, amountOf(machine.cycleMin));
    return minus(most, first).n >= 0n && cycles.every((one) => minus(one, first).n === 0n);
  };
  return network.connections.every(carries) && network.machines.every(takesAll);
}
