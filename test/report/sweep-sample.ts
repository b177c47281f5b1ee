/** Sweeps made up for the tests of their reports. */
import { plannedPoints, sweptQuantity } from "../../src/study/sweep/sweep.ts";
import type { Sweep, SweepPoint } from "../../src/study/sweep/sweep-results.ts";

/** Figures that grow with the number of the point, but where they are told otherwise. */
export function sweepSample(
  texts: readonly string[],
  change: (point: SweepPoint) => Partial<SweepPoint> = () => ({}),
): Sweep {
  const quantities = texts.map((text) => {
    const found = sweptQuantity(text);
    if (typeof found === "string") throw new Error(found);
    return found;
  });
  const planned = plannedPoints(quantities);
  return {
    made_by: "fillfront 0",
    title: "Eight fillers (invented)",
    scenario: "line",
    scenario_sha256: "0".repeat(64),
    seed: "1",
    horizon_min: 240,
    quantities,
    of_points: planned.length,
    shard: null,
    points: planned.map(({ point, settings }) => {
      const plain: SweepPoint = {
        point,
        values: settings.map(({ value }) => value),
        proved: true,
        basis: "recurrence",
        settling_min: 4 + point,
        stops_at_min: null,
        within_tolerance_min: 3 + point,
        ramp_up_loss: 100 * point,
        full_per_min: "240",
        settled_per_min: String(Math.min(240, 50 * point)),
        made: 1000 * point,
        hold_up_peak: 20 * point,
        hold_up_settled: 20 * point - 5,
      };
      return { ...plain, ...change(plain) };
    }),
  };
}

export const ONE = ["feeds.silo.rate=50/min..400/min:50/min"];
export const WORDS = ["lines.main.dividers=even,branch-first,through-first"];
export const TWO = ["feeds.silo.rate=50/min..150/min:50/min", "machines.filler.infeed=50,100"];

/** A point of the four last, in turn: not settled, stopped, not proved, only measured. */
export function troubled(): Sweep {
  return sweepSample(ONE, ({ point }) => {
    if (point === 5) return { settling_min: null, ramp_up_loss: null, proved: false, basis: "flow" };
    if (point === 6) return { settling_min: null, ramp_up_loss: null, settled_per_min: "0", stops_at_min: 12 };
    if (point === 7) return { proved: false, basis: "flow" };
    if (point !== 8) return {};
    const unknown = { settled_per_min: null, measured_per_min: 199.5, settling_min: null, ramp_up_loss: null };
    return { ...unknown, proved: false, basis: "measured" };
  });
}
