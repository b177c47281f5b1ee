/** Where items lie: line by line, machine group by machine group, in surge buffers; kind by kind. */
import type { Run } from "../engine/simulate.ts";
import type { MachineGroup } from "../scenario/scenario.ts";
import type { HoldUpPlace } from "./plant-results.ts";

/** Level summed over the ticks of one period, and in a sample. */
interface Held {
  readonly periodTicks: number;
  readonly sampled: (sample: number) => number;
}

/** @param groups machines that belong to none are places of their own. Places where nothing ever lies are left out. */
export function holdUpPlaces(run: Run, groups: readonly Pick<MachineGroup, "id" | "members">[]): HoldUpPlace[] {
  return [...onBelts(run), ...inBuffers(run, groups)].filter(({ settled, peak }) => settled > 0 || peak > 0);
}

function onBelts(run: Run): HoldUpPlace[] {
  const { places, network } = run.program;
  return places.flatMap(({ id, isSurge }, p) =>
    network.items.map((item, i): HoldUpPlace => {
      const at = p * network.items.length + i;
      const width = places.length * network.items.length;
      const held = {
        periodTicks: run.recurrence?.period.placeTicks[at] ?? 0,
        sampled: (sample: number) => run.samples.onBelts[sample * width + at] ?? 0,
      };
      return { place: id, part: isSurge ? "surge" : "belts", item, ...figures(run, held) };
    }),
  );
}

function inBuffers(run: Run, groups: readonly Pick<MachineGroup, "id" | "members">[]): HoldUpPlace[] {
  const { network, machine, buffer } = run.program;
  const groupOf = new Map(groups.flatMap(({ id, members }) => members.map((member) => [member, id])));
  const found = new Map<string, { place: string; part: "infeed" | "outfeed"; item: string; buffers: number[] }>();
  for (const [m, { id }] of network.machines.entries()) {
    const place = groupOf.get(id) ?? id;
    for (let b = machine.infeed[m] ?? 0; b < (machine.infeed[m + 1] ?? 0); b++) {
      const part = b < (machine.outfeed[m] ?? 0) ? "infeed" : "outfeed";
      const item = network.items[buffer.item[b] ?? -1] ?? "";
      const key = `${part} ${item} ${place}`;
      const known = found.get(key) ?? { place, part, item, buffers: [] };
      known.buffers.push(b);
      found.set(key, known);
    }
  }
  return [...found.values()].map(({ place, part, item, buffers }): HoldUpPlace => {
    const sum = (of: (buffer: number) => number): number => buffers.reduce((total, b) => total + of(b), 0);
    const held = {
      periodTicks: sum((b) => run.recurrence?.period.bufferTicks[b] ?? 0),
      sampled: (sample: number) => sum((b) => run.samples.level[sample * buffer.count + b] ?? 0),
    };
    return { place, part, item, ...figures(run, held) };
  });
}

function figures({ recurrence, samples }: Run, { periodTicks, sampled }: Held): Pick<HoldUpPlace, "settled" | "peak"> {
  let peak = 0;
  for (let sample = 0; sample < samples.count; sample++) peak = Math.max(peak, sampled(sample));
  const settled = recurrence ? periodTicks / recurrence.periodTicks : sampled(samples.count - 1);
  return { settled, peak: Math.max(peak, Math.ceil(settled)) };
}
