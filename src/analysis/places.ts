/** Where items lie: line by line, machine group by machine group, in surge buffers; kind by kind. */
import type { Run } from "../engine/simulate.ts";
import type { HoldUpPlace } from "./plant-results.ts";

/** Level summed over the ticks of one period, and in the last sample. */
interface Held {
  readonly periodTicks: number;
  readonly last: number;
}

/** Places where nothing ever lies are left out. */
export function holdUpPlaces(run: Run): HoldUpPlace[] {
  return [...onBelts(run), ...inBuffers(run)].filter(({ settled, peak }) => settled > 0 || peak > 0);
}

function onBelts(run: Run): HoldUpPlace[] {
  const { places, network } = run.program;
  const width = places.length * network.items.length;
  return places.flatMap(({ id, isSurge }, p) =>
    network.items.map((item, i): HoldUpPlace => {
      const at = p * network.items.length + i;
      const held = {
        periodTicks: run.recurrence?.period.placeTicks[at] ?? 0,
        last: run.samples.onBelts[(run.samples.count - 1) * width + at] ?? 0,
      };
      return { place: id, part: isSurge ? "surge" : "belts", item, ...figures(run, at, held) };
    }),
  );
}

function inBuffers({ program, recurrence, samples, marks }: Run): HoldUpPlace[] {
  const { places, network, buffer } = program;
  const held = buffer.groups.map(() => ({ periodTicks: 0, last: 0 }));
  for (const [b, g] of buffer.group.entries()) {
    const own = held[g];
    if (own === undefined) continue;
    own.periodTicks += recurrence?.period.bufferTicks[b] ?? 0;
    own.last += samples.level[(samples.count - 1) * buffer.count + b] ?? 0;
  }
  return buffer.groups.map((group, g): HoldUpPlace => {
    const at = places.length * network.items.length + g;
    return { ...group, ...figures({ recurrence, marks }, at, held[g] ?? { periodTicks: 0, last: 0 }) };
  });
}

function figures({ recurrence, marks }: Pick<Run, "recurrence" | "marks">, at: number, { periodTicks, last }: Held) {
  return { settled: recurrence ? periodTicks / recurrence.periodTicks : last, peak: marks.placePeak[at] ?? 0 };
}
