/** What every element does once settled: who waits for what, who is held back, what belts carry. */
import type { Run } from "../engine/simulate.ts";
import { BLOCKED, STARVED, STATE_COUNT } from "../engine/states.ts";
import type { Totals } from "../engine/totals.ts";
import { offeredPerMin } from "../network/feeds.ts";
import { carriedAtMost } from "../network/headroom.ts";
import type { Connection } from "../network/network.ts";
import { approximate, ONE, type Rational, ZERO } from "../quantity/rational.ts";
import type { LongRun } from "./long-run.ts";
import { leavingPerMin } from "./outlets.ts";
import { type Ways, waysOf } from "./ways.ts";

export type WaitState = "starved" | "blocked";

export interface OneWait {
  readonly state: WaitState;
  readonly item: string;
  /** Share of the time. */
  readonly share: number;
}

export interface SettledView {
  readonly ways: Ways;
  /** By machine. A machine whose long-run rate is its full one has none. */
  readonly waits: readonly (readonly OneWait[])[];
  /** By machine: cycles per minute that it makes less than at full speed. */
  readonly missingCycles: readonly number[];
  /** By feed: items per minute that it offers and the line does not take; exactly 0 where all is taken. */
  readonly held: readonly number[];
  /** Whether a belt carries all that it can. */
  readonly isAtLimit: (connection: Connection) => boolean;
  /** Share of what its belt can carry; 0 without one. */
  readonly loadOf: (connection: Connection) => number;
  /** Items per minute, of all kinds. */
  readonly passedBy: (connection: Connection) => number;
  /** Items per minute of a kind that leave by an outlet. */
  readonly leaving: (outlet: string, item: string) => number;
}

/** @returns `null` where the long-run rates are only measured */
export function settledView(run: Run, longRun: LongRun): SettledView | null {
  const { exactCycles, exactPassed, exactFed, fullCycles } = longRun;
  const period = settledTotals(run, longRun);
  if (period === null || exactCycles === null || exactPassed === null || exactFed === null) return null;
  const { network } = run.program;
  const ways = waysOf(network);
  const uptimes = network.machines.map(({ cycleMin }, m) => (exactCycles[m] ?? ONE).mul(cycleMin));
  const loadOf = (connection: Connection): number => {
    if (connection.belt === null) return 0;
    const passed = approximate(exactPassed[ways.indexOf(connection)] ?? ONE);
    return passed / approximate(carriedAtMost(connection.belt));
  };
  return {
    ways,
    waits: uptimes.map((uptime, m) => (isFull(uptime) ? [] : waitsOf(run, period.totals, m, 1 - approximate(uptime)))),
    missingCycles: fullCycles.map((full, m) =>
      isFull(uptimes[m] ?? ONE) ? 0 : approximate(full.sub(exactCycles[m] ?? full)),
    ),
    held: network.feeds.map((feed, f) => heldBack(offeredPerMin(feed), exactFed[f] ?? null)),
    isAtLimit: (connection) => loadOf(connection) > NEARLY_ALL,
    loadOf,
    passedBy: (connection) => approximate(exactPassed[ways.indexOf(connection)] ?? ZERO),
    leaving: leavingPerMin(run, longRun, ways),
  };
}

/** Tick rounding of a transit may cost a belt without spare room a little of what it could carry. */
const NEARLY_ALL = 0.9999;

function isFull(uptime: Rational): boolean {
  return uptime.compare(ONE) >= 0;
}

function heldBack(offered: Rational, taken: Rational | null): number {
  return taken === null || taken.compare(offered) >= 0 ? 0 : approximate(offered.sub(taken));
}

/** Totals of one settled period, or of the last quarter where the flow solution settles the matter. */
function settledTotals(run: Run, { basis }: LongRun): { readonly totals: Totals; readonly ticks: number } | null {
  if (run.recurrence) return { totals: run.recurrence.period, ticks: run.recurrence.periodTicks };
  if (basis !== "flow" || run.lastQuarter === null) return null;
  return { totals: run.lastQuarter.totals, ticks: run.horizonTicks - run.lastQuarter.fromTick };
}

/**
 * The engine counts waiting in whole ticks; the share of the time that is not running is exact, and is given to what was
 * waited for in proportion.
 */
function waitsOf({ program }: Run, totals: Totals, m: number, idleShare: number): OneWait[] {
  const ticksIn = (state: number): number => totals.stateTicks[m * STATE_COUNT + state] ?? 0;
  const starved = ticksIn(STARVED);
  const blocked = ticksIn(BLOCKED);
  if (starved + blocked === 0) return [];
  return eachBuffer(program, m, (buffer, state, item) => {
    const ticks = totals.lackTicks[buffer] ?? 0;
    return ticks === 0 ? [] : [{ state, item, share: (idleShare * ticks) / (starved + blocked) }];
  });
}

/** Infeed buffers, then outfeed buffers. */
export function eachBuffer<T>(
  { network, machine }: Run["program"],
  m: number,
  of: (buffer: number, state: WaitState, item: string) => readonly T[],
): T[] {
  const { infeed = [], outfeed = [] } = network.machines[m] ?? {};
  const [first, firstOutfeed] = [machine.infeed[m] ?? 0, machine.outfeed[m] ?? 0];
  return [
    ...infeed.flatMap(({ item }, i) => of(first + i, "starved", item)),
    ...outfeed.flatMap(({ item }, i) => of(firstOutfeed + i, "blocked", item)),
  ];
}
