/** Which kinds come along which connections, and questions asked from element to element along them. */
import { isFedBy } from "../network/feeds.ts";
import { type Graph, graphOf, letsIn, sweepOf } from "../network/graph.ts";
import type {
  Connection,
  DividerElement,
  FeedElement,
  MachineElement,
  MergeElement,
  Network,
  OutletElement,
} from "../network/network.ts";
import { once } from "../quantity/once.ts";

export interface Ways {
  readonly graph: Graph;
  /** Connections out of or into an element that a kind can come along, in file order. */
  readonly outOf: (node: string, item: string) => readonly Connection[];
  readonly into: (node: string, item: string) => readonly Connection[];
  /** As `into`, but for connections that bring back what has gone past before. */
  readonly freshInto: (node: string, item: string) => readonly Connection[];
  /** Whether a line has a loop of dividers, merges and belts. */
  readonly hasLoop: (line: string) => boolean;
  readonly carries: (connection: Connection, item: string) => boolean;
  readonly feed: (id: string) => { readonly feed: FeedElement; readonly index: number } | undefined;
  readonly machine: (id: string) => { readonly machine: MachineElement; readonly index: number } | undefined;
  readonly outlet: (id: string) => OutletElement | undefined;
  readonly divider: (id: string) => DividerElement | undefined;
  readonly merge: (id: string) => MergeElement | undefined;
  readonly connection: (id: string) => Connection | undefined;
  readonly indexOf: (connection: Connection) => number;
}

export const waysOf = once((network: Network): Ways => {
  const graph = graphOf(network);
  const feeds = new Map(network.feeds.map((feed, index) => [feed.id, { feed, index }]));
  const machines = new Map(network.machines.map((machine, index) => [machine.id, { machine, index }]));
  const outlets = new Map(network.outlets.map((outlet) => [outlet.id, outlet]));
  const dividers = new Map(network.dividers.map((divider) => [divider.id, divider]));
  const merges = new Map(network.merges.map((merge) => [merge.id, merge]));
  const indices = new Map(network.connections.map(({ id }, index) => [id, index]));
  const returns = returnsOf(network, graph);
  const carriers = new Map<string, ReadonlySet<string>>();
  const carries = ({ id }: Connection, item: string): boolean => {
    let known = carriers.get(item);
    if (known === undefined) {
      known = carriersOf(network, graph, item);
      carriers.set(item, known);
    }
    return known.has(id);
  };
  const into = (node: string, item: string): readonly Connection[] =>
    graph.into(node).filter((connection) => carries(connection, item));
  const looped = new Set(network.connections.flatMap(({ id, line }) => (returns.has(id) ? [line] : [])));
  return {
    graph,
    outOf: (node, item) => graph.outOf(node).filter((connection) => carries(connection, item)),
    into,
    freshInto: (node, item) => into(node, item).filter(({ id }) => !returns.has(id)),
    hasLoop: (line) => looped.has(line),
    carries,
    feed: (id) => feeds.get(id),
    machine: (id) => machines.get(id),
    outlet: (id) => outlets.get(id),
    divider: (id) => dividers.get(id),
    merge: (id) => merges.get(id),
    connection: (id) => network.connections[indices.get(id) ?? -1],
    indexOf: ({ id }) => indices.get(id) ?? -1,
  };
});

/** Ids of the connections that close a loop of dividers, merges and belts, seen from where items come in. */
function returnsOf({ connections }: Network, graph: Graph): Set<string> {
  const made = connections.filter(({ from }) => graph.machines.has(from)).map(({ to }) => to);
  const nodes = [...graph.nodes.filter((node) => graph.into(node).length === 0), ...made, ...graph.nodes];
  const outOf = (node: string): readonly Connection[] => (graph.machines.has(node) ? [] : graph.outOf(node));
  return new Set(sweepOf({ ...graph, nodes, outOf }).cuts.map(({ id }) => id));
}

/** Ids of the connections that an item of a kind can come along from where it is fed or made. */
function carriersOf({ feeds, machines }: Network, graph: Graph, item: string): Set<string> {
  const sources = [
    ...feeds.filter((feed) => isFedBy(feed, item)),
    ...machines.filter(({ makes }) => makes.some((made) => made.item === item)),
  ];
  const carriers = new Set<string>();
  const open = sources.map(({ id }) => id);
  for (let node = open.pop(); node !== undefined; node = open.pop()) {
    for (const connection of graph.outOf(node)) {
      const { id, to } = connection;
      if (carriers.has(id) || !letsIn(connection, item)) continue;
      carriers.add(id);
      if (!graph.machines.has(to)) open.push(to);
    }
  }
  return carriers;
}

/** A question whose answer follows from the answers to others. */
export interface Question<Q, A> {
  readonly needs: readonly Q[];
  /** @param answerTo `undefined` for one that is being asked already: the questions go round in a circle */
  readonly answer: (answerTo: (question: Q) => A | undefined) => A;
}

/**
 * Answers questions with an own stack, each once, since plants are thousands of elements deep.
 * @param keyOf the same for the same question
 */
export function answering<Q, A>(
  keyOf: (question: Q) => string,
  ask: (question: Q) => Question<Q, A>,
): (question: Q) => A {
  const answers = new Map<string, A>();
  const open = new Map<string, Question<Q, A>>();
  const known = (question: Q): A | undefined => answers.get(keyOf(question));
  return (question) => {
    const stack = [question];
    for (let top = stack.at(-1); top !== undefined; top = stack.at(-1)) {
      const key = keyOf(top);
      const asked = open.get(key);
      if (asked !== undefined) {
        open.delete(key);
        answers.set(key, asked.answer(known));
        stack.pop();
      } else if (answers.has(key)) {
        stack.pop();
      } else {
        const opened = ask(top);
        open.set(key, opened);
        const news = opened.needs.filter((need) => !answers.has(keyOf(need)) && !open.has(keyOf(need)));
        stack.push(...news.reverse());
      }
    }
    const answer = known(question);
    if (answer === undefined) throw new Error(`no answer to ${keyOf(question)}`);
    return answer;
  };
}
