/**
 * One tick: one sweep from the outlets back to the feeds.
 *
 * First feed steps and vehicles whose time has come take effect. Then each element acts once, after all that it feeds, so
 * that room made downstream is usable upstream within the tick. In its turn
 *
 *  - an outlet takes what has reached the head of its belts;
 *  - a machine hands products over, finishes a cycle, starts the next, then lets its infeed take from its belts
 *    (finish before start: a cycle may follow without a gap; start before take: the place it frees is usable at once);
 *  - a divider or merge passes on at most one item from each of its inlets;
 *  - a feed releases an item when its schedule says so and the line takes it.
 *
 * Ties fall in file order: a divider's outlets, a merge's inlets and a machine's belts are tried in the order in which
 * the network lists them, an even divider's or merge's from the one whose turn it is. Elements that cannot act yet are
 * passed over (schedule.ts).
 */
import { DIVIDER, FEED, MACHINE, MERGE, OUTLET } from "../../network/kinds";
import { headLeavesAt, removeHead } from "./belt";
import { beginFeedSteps, nextRelease, nextStepTick, pullFeed, turnFeed, turnVehicles } from "./feed";
import { divide, leavePlant, offer, turnAfter } from "./hand-over";
import { noteExtremes } from "./hold-up";
import { countOverLimits } from "./limits";
import { turnMachine } from "./machine";
import {
  calendarBits,
  calendarWords,
  dividerAt,
  hasVehicles,
  limitCount,
  mergeEven,
  mergeInletFeed,
  mergeInlets,
  mergeOutlet,
  mergeStart,
  mergeTurn,
  outletBelts,
  outletBeltsStart,
  sweepElement,
  sweepKind,
} from "./memory";
import { notePeaks } from "./peaks";
import { Divider } from "./records";
import { dividerOpensAt, opensAt } from "./refusal";
import { beginTick, beginTurn, endTick, NEVER, pageOf, passIdle, tick, wakeNext } from "./schedule";

/**
 * Up to the tick before the next in which something happens. Vehicles and limits count every tick, a feed step comes in the tick
 * after its own.
 * @param to at most up to this one
 */
export function pass(to: i32): void {
  if (!hasVehicles && limitCount === 0) passIdle(min(to, nextStepTick()));
}

/** The next tick. */
export function sweep(): void {
  beginTick();
  beginFeedSteps();
  if (hasVehicles) turnVehicles();
  const first = pageOf(tick);
  for (let word = 0; word < calendarWords; word++) {
    // Looked at anew after each turn, which may enter others for this tick.
    for (let entered = calendarBits[first + word]; entered !== 0; entered = calendarBits[first + word]) {
      calendarBits[first + word] = entered & (entered - 1);
      const place = (word << 5) + ctz(entered);
      beginTurn(place);
      wakeNext(place, turn(place));
    }
  }
  endTick();
  noteExtremes();
  notePeaks();
  if (limitCount > 0) countOverLimits();
}

/** @returns the next tick at which the element may be able to act */
function turn(place: i32): i32 {
  const element = sweepElement[place];
  switch (sweepKind[place]) {
    case OUTLET:
      return turnOutlet(element);
    case MACHINE:
      return turnMachine(element);
    case DIVIDER:
      return turnDivider(dividerAt(element));
    case MERGE:
      return turnMerge(element);
    case FEED:
      return turnFeed(element);
    default:
      return NEVER;
  }
}

function turnOutlet(outlet: i32): i32 {
  let next = NEVER;
  for (let i = outletBeltsStart[outlet]; i < outletBeltsStart[outlet + 1]; i++) {
    const belt = outletBelts[i];
    if (headLeavesAt(belt) <= tick) {
      if (!leavePlant(outlet, belt.head.item, belt.head.born, tick)) continue;
      removeHead(belt, tick);
    }
    next = min(next, headLeavesAt(belt));
  }
  return next;
}

function turnDivider(divider: Divider): i32 {
  const belt = divider.inlet;
  if (belt === null) return NEVER;
  const now = tick;
  const leaves = headLeavesAt(belt);
  if (leaves > now) return leaves;
  const item = belt.head.item;
  if (!divide(divider, item, belt.head.born, now)) return dividerOpensAt(divider, item, now);
  removeHead(belt, now);
  return headLeavesAt(belt);
}

function turnMerge(g: i32): i32 {
  const first = mergeStart[g];
  const count = mergeStart[g + 1] - first;
  let inlet = mergeTurn[g];
  for (let tried = 0; tried < count; tried++) {
    const isPassed = passOn(g, first + inlet);
    inlet = turnAfter(inlet, count);
    if (isPassed && mergeEven[g]) mergeTurn[g] = inlet;
  }
  let next = NEVER;
  for (let i = first; i < first + count; i++) next = min(next, nextPass(g, i));
  return next;
}

/** @param inlet index into the merges' list of inlets */
function passOn(g: i32, inlet: i32): bool {
  const connection = mergeInlets[inlet];
  const feed = mergeInletFeed[inlet];
  if (feed >= 0) return pullFeed(feed, connection, mergeOutlet[g]);
  const belt = connection.belt!;
  if (headLeavesAt(belt) > tick) return false;
  if (!offer(mergeOutlet[g], belt.head.item, belt.head.born, tick)) return false;
  removeHead(belt, tick);
  return true;
}

/** After a turn: the next tick at which an item may pass from the inlet. */
function nextPass(g: i32, inlet: i32): i32 {
  const feed = mergeInletFeed[inlet];
  if (feed >= 0) return nextRelease(feed);
  const belt = mergeInlets[inlet].belt!;
  const leaves = headLeavesAt(belt);
  return leaves > tick ? leaves : opensAt(mergeOutlet[g], belt.head.item, tick);
}
