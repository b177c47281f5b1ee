/** The stretches of a profile before its last change: what each settles at, if it lasts long enough, and when. */
import { inMinutes } from "../network/tick.ts";
import { approximate, exact, type Rational } from "../quantity/rational.ts";
import type { FlowSolution } from "./flow/flow.ts";
import { curveUpTo, type Maker, madeBy, madeCurve } from "./made-curve.ts";
import type { StretchResult } from "./result.ts";
import { settledPattern } from "./settled-pattern.ts";
import { timesOf } from "./settled-times.ts";
import type { Judged } from "./settling.ts";

/** @param makers of the plant's output. Stretches that do not settle before they end are left out */
export function profileStretches(
  { run, longRun, running, stretch, changes, intervalTicks }: Judged,
  makers: readonly Maker[],
  flow: FlowSolution | null,
): StretchResult[] {
  const { program } = run;
  if (program.random !== null || changes.length < 2) return [];
  const whole = madeCurve(running, makers, stretch.toTick);
  return changes.slice(0, -1).flatMap((fromTick, i): StretchResult[] => {
    const toTick = changes[i + 1] ?? stretch.toTick;
    const curve = curveUpTo(whole, toTick);
    const quarterTick = toTick - (toTick - fromTick) / 4;
    const inQuarter = makers.map((maker) => ({
      maker,
      made: madeIn(running[maker.machine]?.ticks ?? [], quarterTick, toTick),
    }));
    const active = inQuarter.filter(({ made }) => made > 0);
    const flowing = flow && lastLevel(flow, inMinutes(fromTick, program.tickS), inMinutes(toTick, program.tickS));
    const pattern = settledPattern(
      curve,
      { fromTick, toTick },
      {
        perTick: flowing && approximate(flowing.perMin) * longRun.toMinutes(1),
        balancedPerTick: Infinity,
        oneCycle: active.reduce((total, { maker }) => total + maker.perCycle, 0),
        periodTicks: null,
        flowTick: flowing && approximate(flowing.fromMin) / longRun.toMinutes(1),
        machinesTick: null,
        intervalTicks,
      },
      "together",
    );
    if (pattern === null) return [];
    const firsts = active.map(({ maker, made }) => ({
      tick: running[maker.machine]?.ticks[0] ?? 0,
      perMin: made * maker.perCycle * (running[maker.machine]?.cyclesPerTick ?? 0),
    }));
    const { to95, full } = timesOf(curve, pattern, { fromTick, toTick }, firsts, fromTick);
    const since = (tick: number | null): number | null => (tick === null ? null : longRun.toMinutes(tick - fromTick));
    const perMin = pattern.perTick / longRun.toMinutes(1);
    return [
      {
        from_min: longRun.toMinutes(fromTick),
        until_min: longRun.toMinutes(toTick),
        settled_per_min: flowing && exact(flowing.perMin),
        ...(flowing ? {} : { measured_per_min: perMin }),
        to_95_min: since(to95),
        time_min: since(full),
        made: madeBy(curve, toTick) - madeBy(curve, fromTick),
        ramp_up_loss: perMin === 0 || pattern.meanAhead === null ? null : -pattern.meanAhead,
      },
    ];
  });
}

/** Ticks for which a machine runs between two. */
function madeIn(ticks: readonly number[], fromTick: number, toTick: number): number {
  const within = (tick: number): number => Math.min(Math.max(tick, fromTick), toTick);
  return ticks.reduce((total, tick, i) => total + (i % 2 === 0 ? -within(tick) : within(tick)), 0);
}

/** The output of the flow at the end of a stretch, and since when it has been that. */
function lastLevel({ phases }: FlowSolution, fromMin: Rational, toMin: Rational) {
  const within = phases.filter((phase) => phase.fromMin.compare(toMin) < 0);
  const last = within.at(-1);
  if (last === undefined) return null;
  let first = within.length - 1;
  while (first > 0 && within[first - 1]?.outputPerMin.equals(last.outputPerMin)) first--;
  const since = within[first]?.fromMin ?? fromMin;
  return { perMin: last.outputPerMin, fromMin: since.compare(fromMin) > 0 ? since : fromMin };
}
