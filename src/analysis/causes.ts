/**
 * Why a machine waits once settled: the wait is traced from element to element, against the flow where it starves and
 * with the flow where it is blocked, until one is found that gives way to none.
 *
 * - Starved: back along the connections that bring the kind. A belt at its limit with a supply held back behind it, or
 *   past which a divider sends what it does not carry, ends the search, and so do a divider that lets the kind go on to an
 *   outlet, a feed and a machine that never waits; a machine that waits itself is asked in its turn.
 * - Blocked: onward along the connections that take the product. A belt at its limit that something beyond still wants
 *   from ends the search, and so do machines that run all the time and an outlet that refuses.
 * - Where neither ends the search, the busiest belt on the way does, if it is busy: it loses a little to items that come
 *   by fits and starts. Else a machine does that makes or takes too little at times, and waits at others.
 * - Of several suppliers or takers the one counts that misses most against its full speed; the file's order settles ties.
 */

import { isSlowlyUnloaded } from "../network/feeds.ts";
import type { Connection } from "../network/network.ts";
import type { FoundJams } from "./jams.ts";
import type { InTheWay } from "./mixes.ts";
import { passedBeside, takenOff } from "./past-machines.ts";
import type { Cause } from "./plant-results.ts";
import { isOutrun, servedBefore } from "./served-first.ts";
import type { OneWait, SettledView, WaitState } from "./settled-view.ts";
import {
  type Answer,
  type Asked,
  decided,
  ended,
  greatest,
  MOST_LISTED,
  past,
  type Served,
  unclear,
  type Via,
} from "./traced.ts";
import { answering, type Question } from "./ways.ts";

export interface Causes {
  /** `null` where the wait can't be traced to anything. */
  readonly of: (machine: string, state: WaitState, item: string) => Cause | null;
}

/**
 * @param jams `null` where none could be proved
 * @param inTheWay by line, the kind of which most comes against what is taken; none for lines of one kind
 */
export function traceCauses(
  view: SettledView,
  jams: FoundJams | null,
  inTheWay: ReadonlyMap<string, InTheWay>,
): Causes {
  const tracer = new Tracer(view, jams, inTheWay);
  const answer = answering(keyOf, (asked: Asked) => tracer.ask(asked));
  return {
    of: (machine, state, item) => {
      const { traced } = answer({ what: "wait", machine, state, item });
      if (traced === null) return null;
      const { code, element, alike } = traced;
      return {
        code,
        element,
        alike,
        item: traced.item,
        via: viaList(traced.via),
        served_first: servedList(traced.served, ({ machines }) => machines),
        ...decidedBy(traced.served),
        ...(traced.outlet === undefined ? {} : { outlet: traced.outlet }),
      };
    },
  };
}

function viaList(first: Via | null): Cause["via"] {
  const list: Cause["via"][number][] = [];
  for (let via = first; via !== null && list.length < MOST_LISTED; via = via.next) {
    list.push({ machine: via.machine, state: via.state, item: via.item });
  }
  return list;
}

/** In the order in which the flow comes to them. */
function servedList(last: Served | null, of: (served: Served) => readonly string[]): string[] {
  const groups: (readonly string[])[] = [];
  for (let served = last; served !== null; served = served.before) groups.push(of(served));
  return [...new Set(groups.reverse().flat())].slice(0, MOST_LISTED);
}

function decidedBy(last: Served | null): Pick<Cause, "decided_by"> {
  const all = servedList(last, ({ by }) => (by === null ? [] : [by]));
  return all.length === 0 ? {} : { decided_by: all };
}

function keyOf(asked: Asked): string {
  return asked.what === "wait"
    ? `wait ${asked.machine} ${asked.state} ${asked.item}`
    : `${asked.what} ${asked.connection.id} ${asked.item}`;
}

/** Who comes first at a junction counts only where nothing but belts lies between it and the end of the way. */
function served(
  { needs, answer }: Question<Asked, Answer>,
  machines: readonly string[],
  by: string | null,
): Question<Asked, Answer> {
  if (machines.length === 0 && by === null) return { needs, answer };
  return {
    needs,
    answer: (answerTo) => {
      const { traced } = answer(answerTo);
      if (traced === null || traced.via !== null) return { traced };
      return { traced: { ...traced, served: { machines, by, before: traced.served } } };
    },
  };
}

class Tracer {
  readonly #view: SettledView;
  readonly #jams: FoundJams | null;
  readonly #inTheWay: ReadonlyMap<string, InTheWay>;

  constructor(view: SettledView, jams: FoundJams | null, inTheWay: ReadonlyMap<string, InTheWay>) {
    this.#view = view;
    this.#jams = jams;
    this.#inTheWay = inTheWay;
  }

  ask(asked: Asked): Question<Asked, Answer> {
    if (asked.what === "wait") return decided(this.#askWait(asked.machine, asked.state, asked.item));
    const { what, connection, item } = asked;
    const question = what === "from" ? this.#askFrom(connection, item) : this.#askTo(connection, item);
    return past(connection, this.#view.loadOf(connection), question);
  }

  #askWait(machine: string, state: WaitState, item: string): Question<Asked, Answer> {
    const jam = this.#jams?.behind(machine, item);
    if (jam !== undefined) return ended({ code: "jam", element: jam.belt, item: jam.item, missing: 0 });
    const { ways } = this.#view;
    const connections = state === "starved" ? ways.freshInto(machine, item) : ways.outOf(machine, item);
    const what = state === "starved" ? "from" : "to";
    return greatest(connections.map((connection) => ({ what, connection, item })));
  }

  /** Why no more of a kind comes by a connection. */
  #askFrom(connection: Connection, item: string): Question<Asked, Answer> {
    const { ways, isAtLimit, held, missingCycles } = this.#view;
    const { from, belt, line } = connection;
    const behind = belt !== null && isAtLimit(connection) ? this.#heldBehind(connection) : 0;
    if (behind > 0) {
      // In a loop, what nobody takes goes round and fills the belts.
      const kind = ways.hasLoop(line) ? this.#kindInTheWay(line, item, true) : null;
      return kind === null
        ? ended({ code: "belt", element: connection.id, item, missing: behind })
        : ended({ code: "mix", element: line, item: kind, missing: behind });
    }
    if (belt !== null && isAtLimit(connection)) {
      const beside = passedBeside(this.#view, connection, item);
      if (beside > 0) return ended({ code: "belt", element: connection.id, item, missing: beside });
    }
    const off = takenOff(this.#view, connection, item);
    if (off !== null) {
      return ended({ code: "taken-off", element: from, item, missing: off.perMin, outlet: off.outlet });
    }
    const fed = ways.feed(from);
    if (fed !== undefined) {
      const left = held[fed.index] ?? 0;
      if (left === 0 && isSlowlyUnloaded(fed.feed)) {
        return ended({ code: "slow-unloading", element: from, item, missing: 0 });
      }
      if (left === 0) return ended({ code: "short-feed", element: from, item, missing: 0 });
      const kind = this.#kindInTheWay(line, item);
      if (kind !== null) return ended({ code: "mix", element: line, item: kind, missing: left });
      return unclear(item, left);
    }
    const maker = ways.machine(from);
    if (maker !== undefined) {
      const perCycle = maker.machine.makes.find((made) => made.item === item)?.count ?? 0;
      const missing = perCycle * (missingCycles[maker.index] ?? 0);
      const wait = this.#mainWait(maker.index, "blocked", item);
      if (missing === 0) return ended({ code: "slow-machine", element: from, item, missing });
      if (wait !== undefined) return this.#follow(from, wait, missing);
      // It has more of the kind to give, and nothing on the way is at its limit.
      const kind = this.#kindInTheWay(line, item);
      return kind === null ? unclear(item, missing, from) : ended({ code: "mix", element: line, item: kind, missing });
    }
    const needs = ways.freshInto(from, item).map((inlet): Asked => ({ what: "from", connection: inlet, item }));
    return served(
      greatest(needs),
      servedBefore(this.#view, connection, item),
      isOutrun(this.#view, ways.outOf(from, item), connection) && ways.divider(from)?.rule === "ordered" ? from : null,
    );
  }

  /** Why no more of a kind goes by a connection. */
  #askTo(connection: Connection, item: string): Question<Asked, Answer> {
    const { ways, isAtLimit, missingCycles } = this.#view;
    const { to, belt, line } = connection;
    const wanted = belt !== null && isAtLimit(connection) ? this.#wantedBeyond(connection, item) : 0;
    if (wanted > 0) return ended({ code: "belt", element: connection.id, item, missing: wanted });
    const outlet = ways.outlet(to);
    if (outlet !== undefined) {
      const refuses = outlet.item !== null && outlet.item !== item;
      return refuses ? ended({ code: "outlet", element: to, item, missing: 0 }) : unclear(item, 0);
    }
    const taker = ways.machine(to);
    if (taker !== undefined) {
      const perCycle = taker.machine.takes.find((taken) => taken.item === item)?.count ?? 0;
      if (perCycle === 0) return ended({ code: "outlet", element: to, item, missing: 0 });
      const missing = perCycle * (missingCycles[taker.index] ?? 0);
      if (missing === 0) return ended({ code: "slow-machine", element: to, item, missing });
      const wait = this.#mainWait(taker.index, "starved", item);
      if (wait !== undefined) return this.#follow(to, wait, missing);
      const kind = this.#kindInTheWay(line, item);
      return kind === null ? unclear(item, missing, to) : ended({ code: "mix", element: line, item: kind, missing });
    }
    const onward = greatest(
      ways.outOf(to, item).map((outletTo): Asked => ({ what: "to", connection: outletTo, item })),
    );
    const isOrdered = ways.merge(to)?.rule === "ordered" && isOutrun(this.#view, ways.graph.into(to), connection);
    return served(onward, [], isOrdered ? to : null);
  }

  #follow(machine: string, { state, item }: OneWait, missing: number): Question<Asked, Answer> {
    const need: Asked = { what: "wait", machine, state, item };
    return {
      needs: [need],
      answer: (answerTo) => {
        const found = answerTo(need);
        const via: Via = { machine, state, item, next: found?.traced?.via ?? null };
        if (found === undefined) {
          return {
            traced: { code: "circular", element: machine, alike: [], item, via, served: null, missing, load: null },
          };
        }
        return { traced: found.traced && { ...found.traced, via, missing } };
      },
    };
  }

  /** Its longest wait but the one through which it was come to; of equal ones the first. */
  #mainWait(machine: number, state: WaitState, item: string): OneWait | undefined {
    const others = (this.#view.waits[machine] ?? []).filter((wait) => wait.state !== state || wait.item !== item);
    return others.reduce<OneWait | undefined>(
      (most, wait) => (most && most.share >= wait.share ? most : wait),
      undefined,
    );
  }

  #kindInTheWay(line: string, item: string, isTooMuch = false): string | null {
    const kind = this.#inTheWay.get(line);
    return kind === undefined || kind.item === item || (isTooMuch && !kind.isTooMuch) ? null : kind.item;
  }

  /** Items per minute that feeds and machines behind a connection could give, and are kept from giving. */
  #heldBehind(connection: Connection): number {
    const { ways, held, waits, missingCycles } = this.#view;
    let total = 0;
    const seen = new Set<string>();
    const open = [connection];
    for (let next = open.pop(); next !== undefined; next = open.pop()) {
      const { from } = next;
      if (seen.has(from)) continue;
      seen.add(from);
      const maker = ways.machine(from);
      const fed = ways.feed(from);
      if (fed !== undefined) total += held[fed.index] ?? 0;
      else if (maker === undefined) open.push(...ways.graph.into(from));
      else if (waits[maker.index]?.some(({ state }) => state === "blocked")) total += missingCycles[maker.index] ?? 0;
    }
    return total;
  }

  /** Items per minute of a kind that machines beyond a connection could take more; more than any for an outlet. */
  #wantedBeyond(connection: Connection, item: string): number {
    const { ways, waits, missingCycles } = this.#view;
    let total = 0;
    const seen = new Set<string>();
    const open = [connection];
    for (let next = open.pop(); next !== undefined; next = open.pop()) {
      const { to } = next;
      if (seen.has(to)) continue;
      seen.add(to);
      const taker = ways.machine(to);
      const outlet = ways.outlet(to);
      if (outlet !== undefined) total += outlet.item === null || outlet.item === item ? Number.MAX_VALUE : 0;
      else if (taker === undefined) open.push(...ways.outOf(to, item));
      else if (waits[taker.index]?.some((wait) => wait.state === "starved" && wait.item === item)) {
        const perCycle = taker.machine.takes.find((taken) => taken.item === item)?.count ?? 0;
        total += perCycle * (missingCycles[taker.index] ?? 0);
      }
    }
    return total;
  }
}
