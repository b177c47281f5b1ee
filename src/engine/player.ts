/** A run to be looked at in any tick, forwards and back: what lies where, what every machine does, what has been counted. */
import type { CompiledPriming } from "../network/priming.ts";
import type { Program } from "../network/program.ts";
import { onBelt } from "./belt-items.ts";
import { intervene, nextIntervention, prime } from "./priming.ts";
import { DIVIDER, DIVIDER_INTS } from "./record-offsets.ts";
import { initialState } from "./start-state.ts";
import type { State } from "./state.ts";
import { advance } from "./tick.ts";

/** The line at the end of a tick. */
export interface Frame {
  readonly tick: number;
  /** Items in buffers, by buffer of the program. */
  readonly levels: Int32Array;
  /** By machine: its state (states.ts), and how much of a cycle under way is done, 0 to 1. */
  readonly states: Uint8Array;
  readonly done: Float32Array;
  /** Finished cycles since the start, by machine; items that feeds have released, by feed. */
  readonly cycles: Float64Array;
  readonly fed: Float64Array;
  /** Items on belts and in buffers. */
  readonly holdUp: number;
  /** By divider: which of its outlets' turns is next. */
  readonly turns: Int32Array;
  /** Items on belt b are `beltStart[b] … beltStart[b + 1] - 1`: where each is, 0 at the belt's entrance to 1 at its head, and its kind. */
  readonly beltStart: Int32Array;
  readonly at: Float32Array;
  readonly kind: Uint16Array;
}

export interface Player {
  /** @param tick from 0, the start, on */
  readonly frameAt: (tick: number) => Frame;
  /** Gives its memory back; no frame can be had any more. */
  readonly release: () => void;
}

const UNPRIMED: CompiledPriming = { stock: [], loaded: [], interventions: [] };

/** @param seed of what is left to chance */
export function playerOf(program: Program, priming: CompiledPriming = UNPRIMED, seed?: string): Player {
  const start = (): State => {
    const fresh = initialState(program, priming.interventions.length, seed);
    prime(program, fresh, priming);
    return fresh;
  };
  let state = start();
  return {
    frameAt: (tick) => {
      if (tick < state.tick) {
        state.release();
        state = start();
      }
      while (state.tick < tick) {
        advance(state, Math.min(tick, nextIntervention(state, priming.interventions)), false);
        intervene(program, state, priming.interventions);
        // Which cycles finished when is not looked at: the counts say it.
        state.completions.count = 0;
      }
      return frameOf(program, state);
    },
    release: () => state.release(),
  };
}

function frameOf(program: Program, state: State): Frame {
  const { belt } = program;
  const { tick } = state;
  const beltStart = new Int32Array(belt.count + 1);
  const at: number[] = [];
  const kind: number[] = [];
  for (let b = 0; b < belt.count; b++) {
    const transit = belt.transitTicks[b]!;
    const room = belt.room[b]!;
    let before = 0;
    onBelt(program, state, b, (item, ready) => {
      // Held up, items stand behind one another from the head back.
      const queued = 1 - before / Math.max(1, room);
      at.push(Math.max(0, Math.min(queued, transit > 0 ? 1 - (ready - tick) / transit : 1)));
      kind.push(item);
      before++;
    });
    beltStart[b + 1] = at.length;
  }
  return {
    tick,
    levels: state.bufferCount.slice(),
    states: state.machineState.slice(),
    done: cyclesDone(program, state),
    cycles: state.totals.cycles.slice(),
    fed: state.totals.fed.slice(),
    holdUp: state.holdUpInAll,
    turns: Int32Array.from({ length: program.divider.count }, (_, d) => {
      return state.dividers[d * DIVIDER_INTS + DIVIDER.turn]!;
    }),
    beltStart,
    at: Float32Array.from(at),
    kind: Uint16Array.from(kind),
  };
}

/** A cycle that is left to chance counts as half done. */
function cyclesDone({ machine, pace, random }: Program, state: State): Float32Array {
  return Float32Array.from(machine.pace, (cycle, m) => {
    if (state.machineBusy[m] === 0) return 0;
    if ((random?.machine.cycle[m] ?? -1) >= 0) return 0.5;
    const length = pace.whole[cycle]! + pace.rest[cycle]! / pace.parts[cycle]!;
    return Math.max(0, Math.min(1, 1 - (state.paceDue[cycle]! - state.tick) / length));
  });
}
