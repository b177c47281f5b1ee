/** Sampled curves from a run. */
import type { Run } from "../engine/simulate.ts";
import { BLOCKED, DOWN, HELD, RUNNING, STARVED, STATE_COUNT } from "../engine/states.ts";
import { surgeBelt } from "./batch-feeds.ts";
import { asTrain, type Events } from "./events.ts";
import type { LongRun } from "./long-run.ts";
import { averageAt, averageTicks } from "./moving-average.ts";
import type { MachineSeries, OutputSeries, Series, SurgeSeries } from "./series.ts";

/** @param made the plant's products as they come */
export function curvesOf(run: Run, longRun: LongRun, made: Events): Series {
  const { toMinutes } = longRun;
  const { program, samples, recurrence } = run;
  const ticks = Array.from(samples.tick.subarray(0, samples.count));
  return {
    timesMin: ticks.map(toMinutes),
    repeatsWithMin: recurrence && toMinutes(recurrence.periodTicks),
    machines: machineCurves(run, ticks),
    output: outputCurves(run, made, ticks, longRun),
    holdUp: program.network.items.map((item, i) => ({
      item,
      level: ticks.map((_, sample) => samples.holdUp[sample * program.itemCount + i] ?? 0),
    })),
    surges: surgeCurves(run, ticks),
  };
}

function machineCurves({ program, samples }: Run, ticks: readonly number[]): MachineSeries[] {
  const { network, buffer, machine } = program;
  const { stateTicks } = samples;
  return network.machines.map(({ id, infeed }, m) => {
    const firstBuffer = machine.infeed[m] ?? 0;
    const share = (state: number): number[] => {
      let before = 0;
      let last = 0;
      return ticks.map((tick, i) => {
        const now = stateTicks[(i * machine.count + m) * STATE_COUNT + state] ?? 0;
        const part = (now - before) / (tick - last);
        before = now;
        last = tick;
        return part;
      });
    };
    return {
      id,
      infeed: infeed.map(({ item, count }, i) => ({
        item,
        capacity: count,
        level: ticks.map((_, sample) => samples.level[sample * buffer.count + firstBuffer + i] ?? 0),
      })),
      running: share(RUNNING),
      starved: share(STARVED),
      blocked: share(BLOCKED),
      down: share(DOWN),
      held: share(HELD),
    };
  });
}

function surgeCurves({ program, samples }: Run, ticks: readonly number[]): SurgeSeries[] {
  const { places, itemCount, belt } = program;
  return places.flatMap(({ id, isSurge }, p) => {
    if (!isSurge) return [];
    const level = (sample: number): number => {
      const from = (sample * places.length + p) * itemCount;
      return samples.onBelts.subarray(from, from + itemCount).reduce((total, count) => total + count, 0);
    };
    return {
      feed: id,
      room: belt.capacity[surgeBelt(program, id)] ?? 0,
      level: ticks.map((_, sample) => level(sample)),
    };
  });
}

function outputCurves(run: Run, events: Events, ticks: readonly number[], longRun: LongRun): OutputSeries {
  const { toMinutes } = longRun;
  const { recurrence, steppedTicks } = run;
  const windowTicks = averageTicks(run, longRun);
  let next = 0;
  const perMin = ticks.map((tick, i) => {
    let made = 0;
    for (; next < events.count && (events.tick[next] ?? 0) <= tick; next++) made += events.amount[next] ?? 0;
    return made / toMinutes(tick - (ticks[i - 1] ?? 0));
  });
  // Near the end the window reaches beyond what was stepped, but where the line repeats, what comes is known.
  const endTick = recurrence ? steppedTicks + windowTicks : steppedTicks;
  const train = asTrain(events, run);
  const average = (tick: number): number => averageAt(train, windowTicks, tick, endTick) / toMinutes(1);
  return { perMin, movingAveragePerMin: ticks.map(average), averagedOverMin: toMinutes(windowTicks) };
}
