/** Sampled curves from a run. */
import type { Run } from "../engine/simulate.ts";
import { BLOCKED, DOWN, HELD, RUNNING, STARVED, STATE_COUNT } from "../engine/state.ts";
import { infeedBuffers } from "./buffers.ts";
import type { LongRun } from "./long-run.ts";
import { averageAt } from "./moving-average.ts";
import type { MachineSeries, OutputSeries, Series } from "./series.ts";
import type { GroupSettling } from "./settling.ts";

export function curvesOf(run: Run, { toMinutes }: LongRun, plant: GroupSettling): Series {
  const { program, samples, recurrence } = run;
  const ticks = Array.from(samples.tick.subarray(0, samples.count));
  return {
    timesMin: ticks.map(toMinutes),
    repeatsWithMin: recurrence && toMinutes(recurrence.periodTicks),
    machines: machineCurves(run, ticks),
    output: outputCurves(run, plant, ticks, toMinutes),
    holdUp: program.network.items.map((item, i) => ({
      item,
      level: ticks.map((_, sample) => samples.held[sample * program.itemCount + i] ?? 0),
    })),
  };
}

function machineCurves({ program, samples }: Run, ticks: readonly number[]): MachineSeries[] {
  const { network, buffer, machine } = program;
  const buffers = infeedBuffers(network);
  return network.machines.map(({ id }, m) => {
    const stateTicks = (sample: number, state: number): number =>
      sample < 0 ? 0 : (samples.stateTicks[(sample * machine.count + m) * STATE_COUNT + state] ?? 0);
    const share = (state: number): number[] =>
      ticks.map((tick, i) => (stateTicks(i, state) - stateTicks(i - 1, state)) / (tick - (ticks[i - 1] ?? 0)));
    return {
      id,
      infeed: buffers
        .filter((own) => own.machine === id)
        .map((own) => ({
          item: own.item,
          capacity: own.capacity,
          level: ticks.map((_, sample) => samples.level[sample * buffer.count + own.buffer] ?? 0),
        })),
      running: share(RUNNING),
      starved: share(STARVED),
      blocked: share(BLOCKED),
      down: share(DOWN),
      held: share(HELD),
    };
  });
}

function outputCurves(
  run: Run,
  plant: GroupSettling,
  ticks: readonly number[],
  toMinutes: (ticks: number) => number,
): OutputSeries {
  const { events, windowTicks } = plant;
  let next = 0;
  const perMin = ticks.map((tick, i) => {
    let made = 0;
    for (; next < events.count && (events.tick[next] ?? 0) <= tick; next++) made += events.amount[next] ?? 0;
    return made / toMinutes(tick - (ticks[i - 1] ?? 0));
  });
  const lastWhole = run.steppedTicks - Math.floor(windowTicks / 2);
  const periodTicks = run.recurrence?.periodTicks ?? 0;
  // Near the end the window is not all known, but where the line repeats, an earlier average is the same.
  const known = (tick: number): number =>
    periodTicks > 0 && tick > lastWhole ? tick - periodTicks * Math.ceil((tick - lastWhole) / periodTicks) : tick;
  const average = (tick: number): number =>
    averageAt(events, windowTicks, known(tick), run.steppedTicks) / toMinutes(1);
  return { perMin, movingAveragePerMin: ticks.map(average) };
}
