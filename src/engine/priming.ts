/** Stock placed before the start, and interventions as their time comes. */
import type { CompiledAction, CompiledPriming } from "../network/priming.ts";
import type { Program } from "../network/program.ts";
import { unbookTotals } from "./over-time.ts";
import { BELT, BELT_INTS, DIVIDER, DIVIDER_INTS, PLACE, PLACE_INTS } from "./record-offsets.ts";
import type { State } from "./state.ts";

/** Interventions that wait for buffers to get full have no tick yet. */
const WAITING = -1;
/** Interventions that are done. */
const DONE = -2;

type Interventions = CompiledPriming["interventions"];

/** Before the first tick. Placed items count as there since tick 0. */
export function prime(program: Program, state: State, { stock, loaded, interventions }: CompiledPriming): void {
  for (const { buffer, count } of stock) {
    for (let n = 0; n < count; n++) state.core.put(buffer, 0);
    countPlaced(state, program.buffer.item[buffer]!, count);
  }
  for (const { belt, item, count } of loaded) {
    loadBelt(program, state, belt, item, count);
    countPlaced(state, item, count);
  }
  unbookTotals(state);
  for (const [i, { whenFull, afterTicks }] of interventions.entries()) {
    state.interventionDue[i] = whenFull ? WAITING : afterTicks;
  }
  awaitBuffers(state, interventions);
  intervene(program, state, interventions);
}

/** The core hands back when one is full that an intervention still waits for. */
function awaitBuffers({ bufferAwaited, interventionDue }: State, interventions: Interventions): void {
  bufferAwaited.fill(0);
  for (const [i, { whenFull }] of interventions.entries()) {
    if (interventionDue[i] === WAITING) for (const buffer of whenFull ?? []) bufferAwaited[buffer] = 1;
  }
}

function countPlaced(state: State, item: number, count: number): void {
  state.totals.placed[item]! += count;
  state.core.changeHoldUp(item, count);
}

/** One item an interval from the head back, as a belt lies that runs at its rate. */
function loadBelt(
  program: Program,
  { belts, places, onPlaces, placeMoment, tick }: State,
  b: number,
  item: number,
  count: number,
): void {
  const record = belts.subarray(b * BELT_INTS, (b + 1) * BELT_INTS);
  const [whole, rest, parts] = [record[BELT.whole]!, record[BELT.rest]!, record[BELT.parts]!];
  for (let n = 0; n < count; n++) {
    const at = (program.belt.ring[b]! + n) * PLACE_INTS;
    // Divided last: the sum of n rounded intervals may come out above a whole tick.
    places[at + PLACE.ready] = n * whole + Math.ceil((n * rest) / parts);
    places[at + PLACE.born] = 0;
    places[at + PLACE.item] = item;
  }
  record[BELT.count] = count;
  record[BELT.high] = count;
  record[BELT.next] = record[BELT.ring]! + 4 * PLACE_INTS * (count % program.belt.capacity[b]!);
  const held = program.belt.at[b]! * program.itemCount + item;
  onPlaces[held]! += count;
  placeMoment[held]! += count * tick;
}

/** Between ticks: fires what is due, and gives a tick to what has waited for buffers that are full now. */
export function intervene(program: Program, state: State, interventions: Interventions): void {
  if (state.interventionsToCome === 0) return;
  for (const [i, { whenFull, afterTicks, actions, times, tickOf }] of interventions.entries()) {
    if (state.interventionDue[i] === WAITING && areFull(state, whenFull)) {
      state.interventionDue[i] = state.tick + afterTicks;
      awaitBuffers(state, interventions);
    }
    if (state.interventionDue[i]! < 0 || state.interventionDue[i]! > state.tick) continue;
    for (const action of actions) perform(program, state, action);
    state.core.wakeAll();
    state.interventionTimes[i]! += 1;
    const isLast = state.interventionTimes[i]! >= times;
    state.interventionDue[i] = isLast ? DONE : tickOf(state.interventionTimes[i]! + 1);
    if (isLast) state.interventionsToCome--;
  }
}

function areFull(state: State, buffers: readonly number[] | null): boolean {
  return buffers?.every((buffer) => isFull(state, buffer)) ?? false;
}

function isFull(state: State, buffer: number): boolean {
  return state.bufferCount[buffer]! >= state.bufferLimit[buffer]!;
}

/** A machine that has stopped is not let go by a tactic that held it off. */
const HELD_BY = { hold: 1, release: 1, stop: 2 } as const;

function perform(program: Program, state: State, action: CompiledAction): void {
  switch (action.do) {
    case "hold":
    case "stop":
      for (const machine of action.machines) state.machineHeld[machine]! |= HELD_BY[action.do];
      break;
    case "release":
      for (const machine of action.machines) state.machineHeld[machine]! &= ~HELD_BY[action.do];
      break;
    case "limit":
      for (const buffer of action.buffers) {
        const room = program.buffer.capacity[buffer]!;
        state.bufferLimit[buffer] = Math.min(action.level ?? room, room);
      }
      break;
    case "divide":
      for (const divider of action.dividers) {
        state.dividers[divider * DIVIDER_INTS + DIVIDER.rule] = action.rule ?? program.divider.rule[divider]!;
      }
      break;
    case "place":
      placeNext(program, state, action.stock);
      break;
  }
}

/**
 * Hands go on to the next buffer, round by round, only where theirs is full or has had its count; where none is left with
 * room, they come in vain.
 */
function placeNext(program: Program, state: State, stock: CompiledPriming["stock"]): void {
  const hands = state.hands.get(stock) ?? { at: 0, placed: stock.map(() => 0) };
  state.hands.set(stock, hands);
  for (let tried = 0; tried < stock.length; tried++) {
    const { buffer, count } = stock[hands.at]!;
    if (hands.placed[hands.at]! < count && !isFull(state, buffer)) {
      hands.placed[hands.at]! += 1;
      state.core.put(buffer, state.tick);
      countPlaced(state, program.buffer.item[buffer]!, 1);
      return;
    }
    hands.at = (hands.at + 1) % stock.length;
  }
}

/** Whether something will still be done at a known tick. */
export function interventionIsDue(state: State): boolean {
  return state.interventionsToCome > 0 && state.interventionDue.some((tick) => tick >= 0);
}

/** The next tick after which an intervention may come, if no awaited buffer gets full before. */
export function nextIntervention(state: State, interventions: Interventions): number {
  const { tick, interventionsToCome, interventionDue } = state;
  let next = Infinity;
  if (interventionsToCome === 0) return next;
  for (let i = 0; i < interventionDue.length; i++) {
    const due = interventionDue[i]!;
    if (due >= 0) next = Math.min(next, due);
    // What an intervention has lowered may be full without another item.
    else if (due === WAITING && areFull(state, interventions[i]!.whenFull)) return tick + 1;
  }
  return Math.max(next, tick + 1);
}
