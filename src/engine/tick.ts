/**
 * One tick: one sweep from the outlets back to the feeds.
 *
 * Each element acts once, after all that it feeds, so that room made downstream is usable upstream within the tick.
 * In its turn
 *
 *  - an outlet takes what has reached the head of its belts;
 *  - a machine hands products over, finishes a cycle, starts the next, then lets its infeed take from its belts
 *    (finish before start: a cycle may follow without a gap; start before take: the place it frees is usable at once);
 *  - a divider or merge passes on at most one item from each of its inlet belts;
 *  - a feed releases an item when its schedule says so and the line takes it.
 *
 * Ties fall in file order: a divider's outlets, a merge's inlets and a machine's belts are tried in the order in which
 * the network lists them, an even divider's or merge's from the one whose turn it is.
 */
import { DIVIDER, FEED, MACHINE, MERGE, OUTLET, type Program } from "../network/program.ts";
import { BLOCKED, RUNNING, STARVED, STATE_COUNT, type State } from "./state.ts";

export function advanceOneTick(program: Program, state: State): void {
  state.tick++;
  beginFeedSteps(program, state);
  const { sweepKind, sweepIndex } = program;
  for (let i = 0; i < sweepKind.length; i++) {
    const element = sweepIndex[i]!;
    switch (sweepKind[i]) {
      case OUTLET:
        turnOutlet(program, state, element);
        break;
      case MACHINE:
        turnMachine(program, state, element);
        break;
      case DIVIDER:
        turnDivider(program, state, element);
        break;
      case MERGE:
        turnMerge(program, state, element);
        break;
      case FEED:
        turnFeed(program, state, element);
        break;
    }
  }
  countHeld(program, state);
}

// Paces. An element is due once its ideal time, rounded up to a tick, has come.

function isDue(state: State, pace: number): boolean {
  return state.paceDue[pace]! <= state.tick;
}

/**
 * Moves the ideal time of a belt's entrance or exit on by one interval. Kept waiting, it starts a new
 * schedule at the beginning of the tick, since what happens in a tick may have happened at any moment of it: so
 * rounding to ticks never adds up, nor do two elements of the same rate that hand over to each other hold each other up.
 */
function advancePace(state: State, pace: number): void {
  if (state.paceDue[pace]! < state.tick) restartPace(state, pace, state.tick - 1);
  addInterval(state, pace);
}

/** A feed that was held up for less than an interval catches up, so that it loses nothing where it joins another. */
function advanceFeed(state: State, pace: number): void {
  const late = state.tick - state.paceDue[pace]!;
  const whole = state.paceWhole[pace]!;
  const isInterval = late > whole || (late === whole && state.paceLag[pace]! >= state.paceRest[pace]!);
  if (isInterval) restartPace(state, pace, state.tick - 1);
  addInterval(state, pace);
}

/** A machine cannot make up for waiting: a cycle takes its time from the tick in which it starts. */
function advanceCycle(state: State, pace: number): void {
  if (state.paceDue[pace]! < state.tick) restartPace(state, pace, state.tick);
  addInterval(state, pace);
}

function restartPace(state: State, pace: number, tick: number): void {
  state.paceDue[pace] = tick;
  state.paceLag[pace] = 0;
}

function addInterval(state: State, pace: number): void {
  state.paceDue[pace]! += state.paceWhole[pace]!;
  const lag = state.paceLag[pace]! - state.paceRest[pace]!;
  if (lag < 0) {
    state.paceDue[pace]! += 1;
    state.paceLag[pace] = lag + state.paceParts[pace]!;
  } else {
    state.paceLag[pace] = lag;
  }
}

// Handing over. Each function returns whether the item was taken; what was not taken has changed nothing.

/** Recursion goes one call deeper for each divider met without a belt between; the network's checks bound that. */
function offer(program: Program, state: State, connection: number, item: number, born: number): boolean {
  const { allows, belt, toKind, toIndex } = program.connection;
  if (allows[connection * program.itemCount + item] === 0) return false;
  const b = belt[connection]!;
  const taken =
    b >= 0
      ? enterBelt(program, state, b, item, born)
      : handOver(program, state, toKind[connection]!, toIndex[connection]!, item, born);
  if (taken) state.totals.passed[connection]! += 1;
  return taken;
}

function handOver(program: Program, state: State, kind: number, element: number, item: number, born: number): boolean {
  switch (kind) {
    case MACHINE:
      return enterInfeed(program, state, element, item, born);
    case DIVIDER:
      return divide(program, state, element, item, born);
    case OUTLET:
      leavePlant(state, item);
      return true;
    default:
      return false;
  }
}

/**
 * Items travel one interval apart at least, each in a slot of its own. The entrance lets an item wait for the next slot,
 * so that a belt is loaded to its rate however unevenly items come to it: 60/min are taken out of 110/min, though every
 * second item would be 55/min.
 */
function enterBelt(program: Program, state: State, b: number, item: number, born: number): boolean {
  const { capacity, ring, entryPace, transitTicks } = program.belt;
  const pace = entryPace[b]!;
  const count = state.beltCount[b]!;
  const room = capacity[b]!;
  const slot = state.paceDue[pace]!;
  if (count >= room || slot > state.tick + state.paceWhole[pace]!) return false;
  advancePace(state, pace);
  let offset = state.beltHead[b]! + count;
  if (offset >= room) offset -= room;
  const place = ring[b]! + offset;
  state.placeReady[place] = Math.max(slot, state.tick) + transitTicks[b]!;
  state.placeItem[place] = item;
  state.placeBorn[place] = born;
  state.beltCount[b] = count + 1;
  return true;
}

/** The place of the item that may leave the belt now, or -1. */
function readyHead(program: Program, state: State, b: number): number {
  if (state.beltCount[b] === 0) return -1;
  const place = program.belt.ring[b]! + state.beltHead[b]!;
  return state.placeReady[place]! <= state.tick && isDue(state, program.belt.exitPace[b]!) ? place : -1;
}

function removeHead(program: Program, state: State, b: number): void {
  const next = state.beltHead[b]! + 1;
  state.beltHead[b] = next === program.belt.capacity[b] ? 0 : next;
  state.beltCount[b]! -= 1;
  advancePace(state, program.belt.exitPace[b]!);
}

function enterInfeed(program: Program, state: State, m: number, item: number, born: number): boolean {
  const buffer = program.machine.bufferFor[m * program.itemCount + item]!;
  if (buffer < 0 || state.bufferCount[buffer]! >= program.buffer.capacity[buffer]!) return false;
  store(program, state, buffer, born);
  return true;
}

function store(program: Program, state: State, buffer: number, born: number): void {
  const room = program.buffer.capacity[buffer]!;
  const count = state.bufferCount[buffer]!;
  let offset = state.bufferHead[buffer]! + count;
  if (offset >= room) offset -= room;
  state.bufferBorn[program.buffer.ring[buffer]! + offset] = born;
  state.bufferCount[buffer] = count + 1;
  const { firstItem, fullAt, high } = state.marks;
  if (count + 1 > high[buffer]!) high[buffer] = count + 1;
  if (firstItem[buffer] === -1) firstItem[buffer] = state.tick;
  if (count + 1 === room && fullAt[buffer] === -1) fullAt[buffer] = state.tick;
}

/** Takes the oldest item out and returns the tick at which it was fed or made. */
function withdraw(program: Program, state: State, buffer: number): number {
  const head = state.bufferHead[buffer]!;
  const count = state.bufferCount[buffer]! - 1;
  state.bufferHead[buffer] = head + 1 === program.buffer.capacity[buffer] ? 0 : head + 1;
  state.bufferCount[buffer] = count;
  if (count < state.marks.low[buffer]!) state.marks.low[buffer] = count;
  return state.bufferBorn[program.buffer.ring[buffer]! + head]!;
}

function leavePlant(state: State, item: number): void {
  state.totals.left[item]! += 1;
  state.marks.held[item]! -= 1;
}

// Turns.

function turnOutlet(program: Program, state: State, outlet: number): void {
  const { start, values } = program.outlet.inletBelts;
  for (let i = start[outlet]!; i < start[outlet + 1]!; i++) {
    const b = values[i]!;
    const place = readyHead(program, state, b);
    if (place < 0) continue;
    leavePlant(state, state.placeItem[place]!);
    removeHead(program, state, b);
  }
}

function turnMachine(program: Program, state: State, m: number): void {
  const { infeed, outfeed, pace } = program.machine;
  const firstInfeed = infeed[m]!;
  const firstOutfeed = outfeed[m]!;
  const end = infeed[m + 1]!;
  const cycle = pace[m]!;

  for (let buffer = firstOutfeed; buffer < end; buffer++) releaseProducts(program, state, buffer);
  if (state.machineBusy[m] === 1 && isDue(state, cycle) && productFits(program, state, firstOutfeed, end)) {
    finishCycle(program, state, m, firstOutfeed, end);
  }
  if (state.machineBusy[m] === 0 && cycleIsStocked(program, state, firstInfeed, firstOutfeed)) {
    takeForCycle(program, state, firstInfeed, firstOutfeed);
    state.machineBusy[m] = 1;
    advanceCycle(state, cycle);
  }
  takeFromBelts(program, state, m);

  const now = state.machineBusy[m] === 0 ? STARVED : isDue(state, cycle) ? BLOCKED : RUNNING;
  state.totals.stateTicks[m * STATE_COUNT + now]! += 1;
}

function releaseProducts(program: Program, state: State, buffer: number): void {
  const { start, values } = program.buffer.outlets;
  const item = program.buffer.item[buffer]!;
  for (let i = start[buffer]!; i < start[buffer + 1]!; i++) {
    while (state.bufferCount[buffer]! > 0) {
      const born = state.bufferBorn[program.buffer.ring[buffer]! + state.bufferHead[buffer]!]!;
      if (!offer(program, state, values[i]!, item, born)) break;
      withdraw(program, state, buffer);
    }
  }
}

function productFits(program: Program, state: State, first: number, end: number): boolean {
  const { capacity, perCycle } = program.buffer;
  for (let buffer = first; buffer < end; buffer++) {
    if (state.bufferCount[buffer]! + perCycle[buffer]! > capacity[buffer]!) return false;
  }
  return true;
}

function finishCycle(program: Program, state: State, m: number, first: number, end: number): void {
  const { perCycle, item, outlets } = program.buffer;
  for (let buffer = first; buffer < end; buffer++) {
    const count = perCycle[buffer]!;
    const kind = item[buffer]!;
    state.totals.made[kind]! += count;
    if (outlets.start[buffer] === outlets.start[buffer + 1]) {
      state.totals.left[kind]! += count;
      continue;
    }
    for (let n = 0; n < count; n++) store(program, state, buffer, state.tick);
    state.marks.held[kind]! += count;
  }
  state.machineBusy[m] = 0;
  state.totals.cycles[m]! += 1;
  const { completions } = state;
  completions.machine[completions.count] = m;
  completions.tick[completions.count] = state.tick;
  completions.count++;
}

function cycleIsStocked(program: Program, state: State, first: number, end: number): boolean {
  for (let buffer = first; buffer < end; buffer++) {
    if (state.bufferCount[buffer]! < program.buffer.perCycle[buffer]!) return false;
  }
  return true;
}

function takeForCycle(program: Program, state: State, first: number, end: number): void {
  const { perCycle, item } = program.buffer;
  for (let buffer = first; buffer < end; buffer++) {
    const count = perCycle[buffer]!;
    const kind = item[buffer]!;
    for (let n = 0; n < count; n++) {
      const dwell = state.tick - withdraw(program, state, buffer);
      state.totals.dwellTicks[kind]! += dwell;
      if (dwell > state.marks.longestDwell) state.marks.longestDwell = dwell;
    }
    state.totals.taken[kind]! += count;
    state.marks.held[kind]! -= count;
  }
}

function takeFromBelts(program: Program, state: State, m: number): void {
  const { start, values } = program.machine.inletBelts;
  for (let i = start[m]!; i < start[m + 1]!; i++) {
    const b = values[i]!;
    const place = readyHead(program, state, b);
    if (place >= 0 && enterInfeed(program, state, m, state.placeItem[place]!, state.placeBorn[place]!)) {
      removeHead(program, state, b);
    }
  }
}

function turnDivider(program: Program, state: State, d: number): void {
  const b = program.divider.inletBelt[d]!;
  if (b < 0) return;
  const place = readyHead(program, state, b);
  if (place >= 0 && divide(program, state, d, state.placeItem[place]!, state.placeBorn[place]!)) {
    removeHead(program, state, b);
  }
}

function divide(program: Program, state: State, d: number, item: number, born: number): boolean {
  const { start, values } = program.divider.outlets;
  const first = start[d]!;
  const count = start[d + 1]! - first;
  const turn = state.dividerTurn[d]!;
  for (let i = 0; i < count; i++) {
    const outlet = (turn + i) % count;
    if (!offer(program, state, values[first + outlet]!, item, born)) continue;
    if (program.divider.even[d] === 1) state.dividerTurn[d] = (outlet + 1) % count;
    return true;
  }
  return false;
}

function turnMerge(program: Program, state: State, g: number): void {
  const { inlets, even } = program.merge;
  const first = inlets.start[g]!;
  const count = inlets.start[g + 1]! - first;
  const turn = state.mergeTurn[g]!;
  for (let i = 0; i < count; i++) {
    const inlet = (turn + i) % count;
    if (passOn(program, state, g, first + inlet) && even[g] === 1) state.mergeTurn[g] = (inlet + 1) % count;
  }
}

/** @param inlet index into the merges' list of inlets */
function passOn(program: Program, state: State, g: number, inlet: number): boolean {
  const { inlets, inletFeed, outlet } = program.merge;
  const feed = inletFeed[inlet]!;
  if (feed >= 0) return release(program, state, feed, outlet[g]!);
  const connection = inlets.values[inlet]!;
  const b = program.connection.belt[connection]!;
  const place = readyHead(program, state, b);
  if (place < 0) return false;
  if (!offer(program, state, outlet[g]!, state.placeItem[place]!, state.placeBorn[place]!)) return false;
  removeHead(program, state, b);
  return true;
}

function turnFeed(program: Program, state: State, f: number): void {
  const connection = program.feed.connection[f]!;
  if (connection >= 0 && program.feed.pulled[f] === 0) release(program, state, f, connection);
}

/** Paces of feeds come first, so a feed's index is its pace's. */
function release(program: Program, state: State, f: number, connection: number): boolean {
  if (state.paceParts[f] === 0 || !isDue(state, f)) return false;
  const item = program.feed.item[f]!;
  if (!offer(program, state, connection, item, state.tick)) return false;
  advanceFeed(state, f);
  state.totals.fed[f]! += 1;
  state.marks.held[item]! += 1;
  return true;
}

/** A step begins the feed's schedule anew: its first item is due one interval after the step's start. */
function beginFeedSteps(program: Program, state: State): void {
  const { steps } = program.feed;
  for (let step = steps[state.nextStep]; step && step.tick < state.tick; step = steps[state.nextStep]) {
    state.nextStep++;
    state.paceWhole[step.feed] = step.whole;
    state.paceRest[step.feed] = step.rest;
    state.paceParts[step.feed] = step.parts;
    const fraction = step.rest > 0 ? 1 : 0;
    state.paceDue[step.feed] = step.tick + step.whole + fraction;
    state.paceLag[step.feed] = fraction * (step.parts - step.rest);
  }
}

function countHeld(program: Program, state: State): void {
  const { marks, totals } = state;
  let held = 0;
  for (let item = 0; item < program.itemCount; item++) {
    held += marks.held[item]!;
    totals.heldTicks[item]! += marks.held[item]!;
  }
  if (held > marks.peakHeld) {
    marks.peakHeld = held;
    marks.peakTick = state.tick;
  }
}
