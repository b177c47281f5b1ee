/**
 * Where belts are merged, or kinds follow one another on a feed, how machines share what is too little or too much may hang on
 * moments so close that the tick decides. Hence further runs at finer ticks, which must agree before such rates are exact.
 */
import type { Dwell, HoldUp, Result } from "../../analysis/result.ts";
import type { Run } from "../../engine/simulate.ts";
import type { Network } from "../../network/network.ts";
import { inMinutes } from "../../network/tick.ts";
import { approximateText } from "../../quantity/approximate.ts";
import { smaller } from "../../quantity/rational.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import { NO_TACTIC, play, UnplayableError } from "../play.ts";

/** What is the same at every tick where the split is. */
export type Look = Pick<Result, "tick_s" | "machines" | "lines" | "belts" | "feeds" | "outlets" | "limits"> & {
  readonly hold_up: Pick<HoldUp, "settled">;
  readonly dwell: Pick<Dwell, "mean_min">;
};

/** Times as fine, without common factors: of 1,650 random collecting lines 69 hung on the tick, and these found all of them. */
const FIRST = [2, 3, 13];
/** Where one of them differs, these tell how far it goes. */
const FURTHER = [5, 10, 20];

/** Elements that act, in one further run: some seconds at most. */
const MOST_WORK = 1e9;
/** Of a run that recurs as late again. */
const ROOM = 3;

/** `null`: it cannot hang on the tick. `[]`: it may, but a finer one would take long. */
export function finerLooks(result: Result, scenario: Scenario, run: Run): readonly Look[] | null {
  const waits = result.machines.some(({ uptime }) => uptime.settled !== null && uptime.settled < 1);
  const { program, recurrence } = run;
  if (!waits || program.random !== null || recurrence === null || !mayHang(program.network, scenario)) return null;
  const first = looksAt(FIRST, scenario, run);
  return first.every((look) => isAlike(look, result)) ? first : [...first, ...looksAt(FURTHER, scenario, run)];
}

export function mayHang({ merges, connections }: Network, { feeds }: Scenario): boolean {
  const names = new Set(merges.map(({ id }) => id));
  return (
    connections.some(({ to, belt }) => belt !== null && names.has(to)) || feeds.some(({ items }) => items.length > 1)
  );
}

function looksAt(times: readonly number[], scenario: Scenario, { program, steppedTicks, horizonTicks }: Run): Look[] {
  const elements = program.sweepKind.length;
  return times.flatMap((finer) => {
    const most = Math.floor(MOST_WORK / (elements * finer));
    if (ROOM * steppedTicks > most && horizonTicks > most) return [];
    const horizonMin = smaller(scenario.horizonMin, inMinutes(most, program.tickS));
    try {
      return play({ ...scenario, horizonMin, tickS: program.tickS.div(finer) }, NO_TACTIC).result;
    } catch (error) {
      // Beyond what can be counted in ticks.
      if (error instanceof UnplayableError) return [];
      throw error;
    }
  });
}

function isAlike(look: Look, { machines }: Result): boolean {
  const others = new Map(look.machines.map((machine) => [machine.id, machine.cycles]));
  return machines.every(({ id, cycles }) => isSame(cycles, others.get(id)));
}

export interface Rate {
  readonly settled_per_min: string | null;
  readonly measured_per_min?: number;
}

/** Beside what is not exact, as far apart as one cycle may take it. */
const APART = 0.01;

/** Whether a finer run's rate confirms that of the first. */
export function isSame(now: Rate, then: Rate | undefined): boolean {
  if (now.settled_per_min === null || then === undefined) return true;
  if (then.settled_per_min !== null) return then.settled_per_min === now.settled_per_min;
  const [one, other] = [rateOf(now), rateOf(then)];
  return Math.abs(one - other) <= APART * Math.max(one, other);
}

export function rateOf({ settled_per_min: exactly, measured_per_min: measured = 0 }: Rate): number {
  return exactly === null ? measured : approximateText(exactly);
}
