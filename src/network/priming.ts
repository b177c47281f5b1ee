/**
 * What is arranged before and during a run to prime a line: stock placed beforehand, and interventions that hold or
 * release machines, limit buffers or change dividers' rules. Plain data by element id; `compilePriming` turns it into
 * indices.
 */
import { approximate, type Rational, whole } from "../quantity/rational.ts";
import type { Network } from "./network.ts";
import { EVEN, LAST_FIRST, ORDERED, type Program } from "./program.ts";
import { inTicks } from "./tick.ts";

export interface Priming {
  /** Items in infeed buffers before the start. */
  readonly stock: readonly { readonly machine: string; readonly item: string; readonly count: number }[];
  /** Items on belts before the start, one an interval from the head back. */
  readonly loaded: readonly { readonly connection: string; readonly item: string; readonly count: number }[];
  readonly interventions: readonly Intervention[];
}

export const UNPRIMED: Priming = { stock: [], loaded: [], interventions: [] };

export interface Intervention {
  /** What it waits for; `null` for nothing. */
  readonly whenFull: readonly Place[] | null;
  /** How long after that, or after the start. */
  readonly afterMin: Rational;
  readonly actions: readonly Action[];
  /** So many times, as long after one another as the first is after the start; once if left out. */
  readonly times?: number;
}

/** An infeed buffer. */
export interface Place {
  readonly machine: string;
  readonly item: string;
}

export type DividerRule = "even" | "ordered" | "last-first";

/** A tactic holds machines off and releases them; one that stops is not let go by that. */
type HoldWord = "hold" | "release" | "stop";

export type Action =
  | { readonly do: HoldWord; readonly machines: readonly string[] }
  /** `null` lifts the limit. */
  | { readonly do: "limit"; readonly places: readonly Place[]; readonly level: number | null }
  /** `null` gives each its own rule back. */
  | { readonly do: "divide"; readonly dividers: readonly string[]; readonly rule: DividerRule | null }
  /** One item into the next place that has room and has not had its count: hands beside the running line. */
  | { readonly do: "place"; readonly stock: Priming["stock"] };

/** Indices of the program. */
export interface CompiledPriming {
  readonly stock: readonly { readonly buffer: number; readonly count: number }[];
  readonly loaded: readonly { readonly belt: number; readonly item: number; readonly count: number }[];
  readonly interventions: readonly CompiledIntervention[];
}

export interface CompiledIntervention {
  /** Buffers. */
  readonly whenFull: readonly number[] | null;
  readonly afterTicks: number;
  readonly actions: readonly CompiledAction[];
  readonly times: number;
  /** The tick of the nth time, counted from 1. */
  readonly tickOf: (nth: number) => number;
}

export type CompiledAction =
  | { readonly do: HoldWord; readonly machines: readonly number[] }
  | { readonly do: "limit"; readonly buffers: readonly number[]; readonly level: number | null }
  | { readonly do: "divide"; readonly dividers: readonly number[]; readonly rule: number | null }
  | { readonly do: "place"; readonly stock: CompiledPriming["stock"] };

const RULES: Readonly<Record<DividerRule, number>> = { even: EVEN, ordered: ORDERED, "last-first": LAST_FIRST };

export function compilePriming(program: Program, { stock, loaded, interventions }: Priming): CompiledPriming {
  const { network, tickS } = program;
  const machines = indexById(network.machines);
  const dividers = indexById(network.dividers);
  const connections = indexById(network.connections);
  const items = new Map(network.items.map((item, index) => [item, index]));
  const bufferOf = ({ machine, item }: Place): number => {
    const buffer = program.machine.bufferFor[at(machines, machine) * program.itemCount + at(items, item)] ?? -1;
    if (buffer < 0) throw new Error(`priming names a buffer that ${machine} does not have: ${item}`);
    return buffer;
  };
  const compileAction = (action: Action): CompiledAction => {
    switch (action.do) {
      case "hold":
      case "release":
      case "stop":
        return { do: action.do, machines: action.machines.map((id) => at(machines, id)) };
      case "limit":
        return { do: action.do, buffers: action.places.map(bufferOf), level: action.level };
      case "divide":
        return {
          do: action.do,
          dividers: action.dividers.map((id) => at(dividers, id)),
          rule: action.rule && RULES[action.rule],
        };
      case "place":
        return { do: action.do, stock: action.stock.map((place) => ({ buffer: bufferOf(place), count: place.count })) };
    }
  };
  return {
    stock: stock.map((place) => ({ buffer: bufferOf(place), count: place.count })),
    loaded: loaded.flatMap(({ connection, item, count }) => {
      const belt = program.connection.belt[at(connections, connection)] ?? -1;
      return belt < 0 ? [] : [{ belt, item: at(items, item), count }];
    }),
    interventions: interventions.map(({ whenFull, afterMin, actions, times = 1 }) => {
      const interval = inTicks(afterMin, tickS);
      return {
        whenFull: whenFull?.map(bufferOf) ?? null,
        afterTicks: approximate(interval.ceil()),
        actions: actions.map(compileAction),
        times,
        tickOf: (nth: number) => approximate(interval.mul(whole(nth)).ceil()),
      };
    }),
  };
}

function indexById(elements: Network["machines"] | Network["dividers"] | Network["connections"]): Map<string, number> {
  return new Map(elements.map(({ id }, index) => [id, index]));
}

function at(indices: ReadonlyMap<string, number>, name: string): number {
  const index = indices.get(name);
  if (index === undefined) throw new Error(`priming names what the network does not have: ${name}`);
  return index;
}
