/** Lines for a file that states none: one chain for each kind of item, from all that give it to all that take it. */

/** By name, which kinds each takes, makes or feeds; in file order. */
export interface DraftKinds {
  readonly machines: readonly {
    readonly id: string;
    readonly takes: readonly string[];
    readonly makes: readonly string[];
  }[];
  readonly feeds: readonly { readonly id: string; readonly items: readonly string[] }[];
  readonly outlets: readonly { readonly id: string; readonly item: string }[];
  readonly wanted: readonly string[];
}

export interface DrawnLines {
  /** Feeds and outlets to add, by name the kind of item. */
  readonly feeds: ReadonlyMap<string, string>;
  readonly returns: ReadonlyMap<string, string>;
  readonly outlets: ReadonlyMap<string, string>;
  readonly lines: ReadonlyMap<
    string,
    { readonly from: readonly string[]; readonly to: readonly string[]; readonly end: string }
  >;
}

/**
 * Kinds that nobody makes get a feed. What a machine makes for one that leads back to it is not collected: it leaves, and a
 * feed brings as much. What is wanted although machines take it leaves at the far end of its line.
 */
export function drawnLines(kinds: DraftKinds): DrawnLines {
  const names = namesTaken(kinds);
  const [feeds, returns, outlets] = [new Map<string, string>(), new Map<string, string>(), new Map<string, string>()];
  const lines = new Map<string, { from: string[]; to: string[]; end: string }>();
  const back = waysBack(kinds);
  for (const items of joined(kinds)) {
    const [item = ""] = items;
    const takers = kinds.machines.filter(({ takes }) => items.some((one) => takes.includes(one))).map(({ id }) => id);
    if (takers.length === 0) continue;
    const from = kinds.feeds.filter((feed) => feed.items.some((one) => items.includes(one))).map(({ id }) => id);
    const onward = (maker: string): boolean => takers.every((taker) => !back.has(`${maker} ${taker}`));
    const makers = kinds.machines.filter(({ makes }) => makes.some((one) => items.includes(one))).map(({ id }) => id);
    const collected = makers.filter(onward);
    if (makers.length > collected.length) from.push(add(returns, names, `returned-${item}`, item));
    if (from.length === 0 && makers.length === 0) from.push(add(feeds, names, `${item}-feed`, item));
    const outlet = kinds.outlets.find((one) => items.includes(one.item))?.id;
    const leaves = items.find((one) => kinds.wanted.includes(one));
    const end = outlet ?? (leaves === undefined ? "stop" : add(outlets, names, `${leaves}-out`, leaves));
    lines.set(item, { from: [...from, ...collected], to: takers, end });
  }
  return { feeds, returns, outlets, lines };
}

const LONGEST_NAME = 40;

function add(to: Map<string, string>, names: Set<string>, name: string, item: string): string {
  let free = name.slice(0, LONGEST_NAME);
  for (let n = 2; names.has(free); n++) free = `${name.slice(0, LONGEST_NAME - 4)}-${n}`;
  names.add(free);
  to.set(free, item);
  return free;
}

function namesTaken({ machines, feeds, outlets }: DraftKinds): Set<string> {
  return new Set([...machines, ...feeds, ...outlets].map(({ id }) => id));
}

/** Kinds that share a feed, and so a line; each other kind by itself. In the order in which machines take them. */
function joined({ machines, feeds }: DraftKinds): string[][] {
  let sets = [...new Set(machines.flatMap(({ takes }) => takes))].map((item) => [item]);
  for (const { items } of feeds) {
    const own = sets.filter((set) => set.some((item) => items.includes(item)));
    const [first] = own;
    if (first === undefined || own.length < 2) continue;
    sets = sets.flatMap((set) => (set === first ? [own.flat()] : own.includes(set) ? [] : [set]));
  }
  return sets;
}

/** "maker taker" where the taker leads back to the maker: met again on the way down, machines in file order. */
function waysBack({ machines }: DraftKinds): Set<string> {
  const back = new Set<string>();
  const state = new Map<string, "open" | "done">();
  const visit = (machine: DraftKinds["machines"][number]): void => {
    state.set(machine.id, "open");
    for (const next of machines) {
      if (!next.takes.some((item) => machine.makes.includes(item))) continue;
      if (state.get(next.id) === "open") back.add(`${machine.id} ${next.id}`);
      else if (!state.has(next.id)) visit(next);
    }
    state.set(machine.id, "done");
  };
  for (const machine of startFirst(machines)) if (!state.has(machine.id)) visit(machine);
  return back;
}

/** Those first that take something which no machine makes: a plant begins with them. */
function startFirst(machines: DraftKinds["machines"]): DraftKinds["machines"] {
  const made = new Set(machines.flatMap(({ makes }) => makes));
  const starts = machines.filter(({ takes }) => takes.some((item) => !made.has(item)));
  return [...starts, ...machines.filter((machine) => !starts.includes(machine))];
}
