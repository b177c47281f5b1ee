/** Buffers that still fill or drain when the horizon ends before the line is proved to have settled. */
import { lateFrom } from "../engine/samples.ts";
import type { Run } from "../engine/simulate.ts";
import { inMinutes } from "../network/tick.ts";
import { approximate, exact, whole } from "../quantity/rational.ts";
import { bufferNames, flowBufferNames } from "./buffers.ts";
import { changingAt, type FlowSolution } from "./flow/flow.ts";
import type { LongRun } from "./long-run.ts";
import type { StillChanging } from "./result.ts";

/** A level that moved less over the last quarter is taken to swing, not to rise or fall. */
const LEAST_CHANGE_ITEMS = 3;

export function stillChanging(run: Run, { basis }: LongRun, flow: FlowSolution | null): StillChanging[] {
  switch (basis) {
    case "recurrence":
      return [];
    case "flow":
      return flow ? changingInFlow(run, flow) : [];
    case "measured":
      // Under chance levels go up and down for ever.
      return run.program.random === null ? changingAsMeasured(run) : [];
  }
}

function changingInFlow({ program, horizonTicks }: Run, flow: FlowSolution): StillChanging[] {
  const horizonMin = inMinutes(horizonTicks, program.tickS);
  const nameOf = flowBufferNames(program.network);
  return changingAt(flow, horizonMin).map((buffer) => ({
    buffer: nameOf(buffer),
    rate_per_min: exact(buffer.netPerMin),
    done_at_min: buffer.doneAtMin && approximate(buffer.doneAtMin),
  }));
}

function changingAsMeasured({ program, samples, horizonTicks, lastQuarter }: Run): StillChanging[] {
  const fromTick = lastQuarter?.fromTick ?? lateFrom(horizonTicks);
  const first = samples.tick.findIndex((tick) => tick >= fromTick);
  const last = samples.count - 1;
  if (first < 0 || first >= last) return [];
  const horizonMin = inMinutes(horizonTicks, program.tickS);
  const lastedMin = inMinutes((samples.tick[last] ?? 0) - (samples.tick[first] ?? 0), program.tickS);
  const nameOf = bufferNames(program.network);
  return program.network.machines.flatMap(({ id, infeed }, m) =>
    infeed.flatMap(({ item, count: capacity }, i) => {
      const buffer = (program.machine.infeed[m] ?? 0) + i;
      const levelAt = (sample: number): number => samples.level[sample * program.buffer.count + buffer] ?? 0;
      const change = levelAt(last) - levelAt(first);
      const toGo = change > 0 ? capacity - levelAt(last) : levelAt(last);
      if (Math.abs(change) < LEAST_CHANGE_ITEMS || toGo === 0) return [];
      const ratePerMin = whole(change).div(lastedMin);
      return {
        buffer: nameOf(id, item),
        rate_per_min: exact(ratePerMin),
        done_at_min: approximate(horizonMin.add(whole(toGo).div(ratePerMin.abs()))),
      };
    }),
  );
}
