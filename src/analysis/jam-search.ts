/**
 * What stands for ever because of what. Three kinds of fact stand in a graph, each pointing to those that explain it: an
 * item that stands, a machine that lacks a kind for ever, and a kind that does not come by a connection.
 */
import type { Run } from "../engine/simulate.ts";
import { offeredPerMin } from "../network/feeds.ts";
import type { Connection } from "../network/network.ts";
import { type Period, type Standing, waitsForEver } from "./standing.ts";
import { answering, type Question, type Ways } from "./ways.ts";

/** Where a standing item is refused for good, and whether for want of room in a machine's buffer. */
export interface Root {
  readonly standing: Standing;
  readonly at: string;
  readonly isFull: boolean;
}

export interface FoundRoots {
  /** By line and kind. */
  readonly roots: ReadonlyMap<string, readonly Root[]>;
  /** Of these, what keeps a machine without a kind, and an item where it stands. */
  readonly ofLacking: (machine: string, item: string) => ReadonlySet<string>;
  readonly ofStanding: (where: string) => ReadonlySet<string>;
}

type Fact =
  | { readonly what: "standing"; readonly where: string }
  | { readonly what: "lacking"; readonly where: string; readonly item: string }
  | { readonly what: "coming"; readonly connection: Connection; readonly item: string };

function keyOf(fact: Fact): string {
  if (fact.what === "standing") return `standing ${fact.where}`;
  if (fact.what === "lacking") return `lacking ${fact.where} ${fact.item}`;
  return `coming ${fact.connection.id} ${fact.item}`;
}

/** An item before a machine that is full of its kind and lacks others. */
interface Full {
  readonly standing: Standing;
  readonly at: string;
}

export class JamSearch {
  readonly #run: Run;
  readonly #period: Period;
  readonly #ways: Ways;
  readonly #standing: ReadonlyMap<string, Standing>;
  readonly #offered: (lacking: Fact) => boolean;
  /** By fact: those that explain it, and those that it explains. */
  readonly #explainedBy = new Map<string, string[]>();
  readonly #explains = new Map<string, string[]>();
  readonly #refused: Root[] = [];
  readonly #full: Full[] = [];

  constructor(run: Run, period: Period, ways: Ways, standing: ReadonlyMap<string, Standing>) {
    this.#run = run;
    this.#period = period;
    this.#ways = ways;
    this.#standing = standing;
    this.#offered = answering(keyOf, (fact) => this.#askOffered(fact));
  }

  /** Whether a feed or a machine has any of a kind to give to a machine, were the way free. */
  isOffered(machine: string, item: string): boolean {
    return this.#offered({ what: "lacking", where: machine, item });
  }

  /** @param lacking machines that lack a kind for ever */
  find(lacking: readonly { readonly machine: string; readonly item: string }[]): FoundRoots {
    this.#collect([
      ...[...this.#standing.keys()].map((where): Fact => ({ what: "standing", where })),
      ...lacking.map(({ machine, item }): Fact => ({ what: "lacking", where: machine, item })),
    ]);
    const keys = new Map<string, Set<string>>();
    const roots = new Map<string, Root[]>();
    const add = (root: Root): void => {
      const { line, item, where } = root.standing;
      const key = `${line} ${item}`;
      const others = roots.get(key);
      if (others === undefined) roots.set(key, [root]);
      else others.push(root);
      spread(keys, this.#explains, `standing ${where}`, key);
    };
    for (const root of this.#refused) add(root);
    for (const { standing, at } of this.#circles(keys)) add({ standing, at, isFull: true });
    return {
      roots,
      ofLacking: (machine, item) => keys.get(`lacking ${machine} ${item}`) ?? new Set(),
      ofStanding: (where) => keys.get(`standing ${where}`) ?? new Set(),
    };
  }

  /**
   * Of what no refused item explains: items that wait for what waits for them, with nothing else on which they all wait.
   */
  #circles(explained: ReadonlyMap<string, unknown>): Full[] {
    const open = this.#full.filter(({ standing }) => !explained.has(`standing ${standing.where}`));
    const reach = new Map(
      open.map(({ standing }) => {
        const fact = `standing ${standing.where}`;
        return [fact, this.#reach(fact)];
      }),
    );
    return open.filter(({ standing }) => {
      const fact = `standing ${standing.where}`;
      return [...(reach.get(fact) ?? [])].every((other) => reach.get(other)?.has(fact) ?? true);
    });
  }

  /** The fact itself too. */
  #reach(fact: string): Set<string> {
    const reached = new Set([fact]);
    for (const one of reached) for (const next of this.#explainedBy.get(one) ?? []) reached.add(next);
    return reached;
  }

  #collect(facts: Fact[]): void {
    for (let fact = facts.pop(); fact !== undefined; fact = facts.pop()) {
      const key = keyOf(fact);
      if (this.#explainedBy.has(key)) continue;
      const reasons = this.#reasons(fact);
      this.#explainedBy.set(key, reasons.map(keyOf));
      for (const reason of reasons) {
        const explained = this.#explains.get(keyOf(reason));
        if (explained === undefined) this.#explains.set(keyOf(reason), [key]);
        else explained.push(key);
      }
      facts.push(...reasons);
    }
  }

  #reasons(fact: Fact): Fact[] {
    switch (fact.what) {
      case "standing":
        return this.#beforeStanding(fact.where);
      case "lacking":
        return this.#suppliers(fact.where, fact.item);
      case "coming": {
        const { id, from } = fact.connection;
        const standing = this.#standing.get(id) ?? this.#standing.get(from);
        return standing === undefined
          ? this.#behindGiver(from, fact.item)
          : [{ what: "standing", where: standing.where }];
      }
    }
  }

  /** What stands before it, and what the machines lack that are full of its kind. */
  #beforeStanding(where: string): Fact[] {
    const standing = this.#standing.get(where);
    if (standing === undefined) return [];
    const { item, along, at } = standing;
    const { outOf, machine, outlet } = this.#ways;
    const reasons: Fact[] = [];
    const seen = new Set<string>();
    const open: string[] = [];
    const refuse = (by: string): void => {
      this.#refused.push({ standing, at: by, isFull: false });
    };
    const goAlong = (connections: readonly Connection[], from: string): void => {
      if (connections.length === 0) refuse(from);
      for (const { id, to, belt } of connections) {
        if (belt === null) open.push(to);
        else if (this.#standing.has(id)) reasons.push({ what: "standing", where: id });
      }
    };
    if (along === null) open.push(at);
    else goAlong(along, at);
    for (let node = open.pop(); node !== undefined; node = open.pop()) {
      if (seen.has(node)) continue;
      seen.add(node);
      const taker = machine(node);
      const end = outlet(node);
      if (taker !== undefined) {
        if (!taker.machine.takes.some((taken) => taken.item === item)) refuse(node);
        else if (this.#standing.has(node)) reasons.push({ what: "standing", where: node });
        else reasons.push(...this.#fullMachine(standing, node, taker.index));
      } else if (end === undefined) goAlong(outOf(node, item), node);
      else if (end.item !== null && end.item !== item) refuse(node);
    }
    return reasons;
  }

  #fullMachine(standing: Standing, at: string, machine: number): Fact[] {
    const lacks = waitsForEver(this.#run, this.#period, machine, "starved");
    if (lacks.some((item) => this.isOffered(at, item))) this.#full.push({ standing, at });
    return lacks.map((item) => ({ what: "lacking", where: at, item }));
  }

  #suppliers(node: string, item: string): Fact[] {
    return this.#ways.freshInto(node, item).map((connection) => ({ what: "coming", connection, item }));
  }

  #behindGiver(from: string, item: string): Fact[] {
    if (this.#ways.feed(from) !== undefined) return [];
    const maker = this.#ways.machine(from);
    if (maker === undefined) return this.#suppliers(from, item);
    const lacks = waitsForEver(this.#run, this.#period, maker.index, "starved");
    return lacks.map((lacked) => ({ what: "lacking", where: from, item: lacked }));
  }

  #askOffered(fact: Fact): Question<Fact, boolean> {
    if (fact.what === "standing") return { needs: [], answer: () => true };
    if (fact.what === "lacking") {
      const needs = this.#suppliers(fact.where, fact.item);
      return { needs, answer: (answerTo) => needs.some((need) => answerTo(need) ?? false) };
    }
    const { from } = fact.connection;
    const fed = this.#ways.feed(from);
    if (fed !== undefined) return { needs: [], answer: () => offeredPerMin(fed.feed).n !== 0n };
    const needs = this.#behindGiver(from, fact.item);
    return this.#ways.machine(from) === undefined
      ? { needs, answer: (answerTo) => needs.some((need) => answerTo(need) ?? false) }
      : { needs, answer: (answerTo) => needs.every((need) => answerTo(need) ?? true) };
  }
}

/** Gives a key to a fact and to all that it explains. */
function spread(
  keys: Map<string, Set<string>>,
  explains: ReadonlyMap<string, readonly string[]>,
  from: string,
  key: string,
): void {
  const open = [from];
  for (let fact = open.pop(); fact !== undefined; fact = open.pop()) {
    const own = keys.get(fact) ?? new Set();
    if (own.has(key)) continue;
    keys.set(fact, own.add(key));
    open.push(...(explains.get(fact) ?? []));
  }
}
