/**
 * Results and series that look like real ones, made by a crude flow model of a chain with even dividers and belts
 * without length. The figures serve to fill pictures and tables; nothing is checked against them.
 */
import type { MachineResult, Result } from "../../src/analysis/result.ts";
import type { MachineSeries, Series } from "../../src/analysis/series.ts";

export interface SampleOptions {
  readonly title?: string;
  readonly machines: number;
  /** Items/min of one machine. */
  readonly need?: number;
  readonly capacity?: number;
  /** Items/min. */
  readonly feed?: number;
  readonly endMin?: number;
  readonly samples?: number;
  readonly id?: (index: number) => string;
  /** Every machine takes a second kind that is always there. */
  readonly twoKinds?: boolean;
  /** Adds minutes of the other states, so that a picture has them all. */
  readonly disturbed?: boolean;
}

const STEPS_PER_SAMPLE = 30;

export function sample(options: SampleOptions): { result: Result; series: Series } {
  const { machines: count, need = 30, capacity = 100, endMin = 20, samples = 300 } = options;
  const feed = options.feed ?? need * count;
  const id = options.id ?? ((index: number) => `cartoner-${index + 1}`);
  const dt = endMin / samples / STEPS_PER_SAMPLE;
  const level = Array.from({ length: count }, () => 0);
  const fullAt: (number | null)[] = Array.from({ length: count }, () => null);
  const rateFrom: number[] = Array.from({ length: count }, () => 0);
  const levels: number[][] = level.map(() => []);
  const running: number[][] = level.map(() => []);
  const timesMin: number[] = [];
  const perMin: number[] = [];
  for (let s = 1; s <= samples; s++) {
    const ran = level.map(() => 0);
    for (let step = 0; step < STEPS_PER_SAMPLE; step++) {
      const t = (s - 1 + step / STEPS_PER_SAMPLE) * (endMin / samples);
      let onward = feed * dt;
      for (let m = 0; m < count; m++) {
        const room = capacity - (level[m] ?? 0) + need * dt;
        const roomBehind = m === count - 1 ? 0 : onward;
        const wanted = m === count - 1 ? onward : Math.max(onward / 2, onward - roomBehind);
        const taken = Math.min(wanted, room);
        onward -= taken;
        const made = Math.min(need * dt, (level[m] ?? 0) + taken);
        level[m] = (level[m] ?? 0) + taken - made;
        ran[m] = (ran[m] ?? 0) + made / (need * dt) / STEPS_PER_SAMPLE;
        if (made < need * dt * 0.999) rateFrom[m] = t + dt;
        if ((level[m] ?? 0) >= capacity * 0.999 && fullAt[m] === null) fullAt[m] = t;
      }
    }
    timesMin.push((s * endMin) / samples);
    for (let m = 0; m < count; m++) {
      levels[m]?.push(Math.round(level[m] ?? 0));
      running[m]?.push(Math.min(1, ran[m] ?? 0));
    }
    // Whole items make the output of a short sample jump.
    const output = ran.reduce((total, share) => total + share * need, 0);
    perMin.push(Math.max(0, output * (1 + 0.16 * Math.sin(s * 2.4))));
  }
  const shares = count === 0 ? [] : running.map((own) => own.at(-1) ?? 0);
  const settledRate = shares.reduce((total, share) => total + share * need, 0);
  const smooth = perMin.map((_, i) => {
    const from = Math.max(0, i - 14);
    const part = running.map((own) => own.slice(from, i + 1).reduce((a, b) => a + b, 0) / (i + 1 - from));
    return part.reduce((total, share) => total + share * need, 0);
  });
  const settledFrom = Math.max(
    0,
    ...rateFrom.filter((_, m) => (shares[m] ?? 0) > 0.999),
    ...fullAt.map((at) => at ?? 0),
  );
  const lastBelow = timesMin.findLast((_, i) => (smooth[i] ?? 0) < 0.95 * settledRate) ?? 0;
  const within = Math.min(lastBelow, settledFrom);
  const total = timesMin.map((_, i) => levels.reduce((sum, own) => sum + (own[i] ?? 0), 0));
  const peak = Math.max(0, ...total);
  const zero = timesMin.map(() => 0);
  const rate = (value: number): string => String(Math.round(value * 1000) / 1000);
  const kinds = (buffer: { item: string }): { item: string }[] =>
    options.twoKinds === true ? [buffer, { ...buffer, item: "tray" }] : [buffer];

  const machineSeries = levels.map((own, m): MachineSeries => {
    const run = running[m] ?? [];
    const disturbance = (from: number, to: number, machine: number): number[] =>
      timesMin.map((t) => (options.disturbed === true && m === machine && t >= from && t < to ? 1 : 0));
    const down = disturbance(endMin * 0.4, endMin * 0.46, 1);
    const held = disturbance(0, endMin * 0.12, Math.min(count - 1, 5));
    const blocked = disturbance(endMin * 0.6, endMin * 0.8, 2).map((b, i) => b * (0.3 + 0.3 * Math.sin(i / 7)));
    const free = timesMin.map((_, i) => 1 - (down[i] ?? 0) - (held[i] ?? 0) - (blocked[i] ?? 0));
    return {
      id: id(m),
      infeed: kinds({ item: "pouch" }).map(({ item }) => ({
        item,
        capacity: item === "tray" ? 40 : capacity,
        level: item === "tray" ? own.map((v) => Math.min(40, Math.round(v * 0.8))) : own,
      })),
      running: run.map((share, i) => share * (free[i] ?? 1)),
      starved: run.map((share, i) => (1 - share) * (free[i] ?? 1)),
      blocked,
      down,
      held,
    };
  });

  const machineResults = levels.map((own, m): MachineResult => {
    const run = running[m] ?? [];
    const share = shares[m] ?? 0;
    const ran = run.reduce((sum, value) => sum + value, 0) * (endMin / samples);
    return {
      id: id(m),
      line: "main",
      needs_per_min: rate(need),
      settled_per_min: rate(share * need),
      lines: ["main"],
      cycles: { full_per_min: rate(need), settled_per_min: rate(share * need) },
      products: [{ item: "carton", full_per_min: rate(need), settled_per_min: rate(share * need) }],
      first_item_min: 0.2 + m * 0.05,
      full_rate_from_min: rateFrom[m] ?? 0,
      settling: {
        time_min: rateFrom[m] ?? 0,
        tolerance: 0.05,
        within_tolerance_min: rateFrom[m] ?? 0,
        to_50_min: 0.4,
        to_90_min: rateFrom[m] ?? 0,
        to_95_min: rateFrom[m] ?? 0,
        to_99_min: rateFrom[m] ?? 0,
        counted_from_min: 0,
        pattern_from_min: rateFrom[m] ?? 0,
        first_product_min: 0.3,
      },
      ramp_up_loss: Math.round(Math.max(0, share * endMin - ran) * need),
      infeed: kinds({ item: "pouch" }).map(({ item }) => ({
        item,
        needs_per_min: rate(need),
        settled_per_min: rate(share * need),
        capacity: item === "tray" ? 40 : capacity,
        full_at_min: item === "tray" ? null : (fullAt[m] ?? null),
        settled_low: Math.max(0, (own.at(-1) ?? 0) - 1),
        settled_high: own.at(-1) ?? 0,
      })),
      uptime: { ramp_up: ran / endMin, settled: share, horizon: Math.min(1, ran / endMin + 0.01) },
      minutes: { running: ran, starved: endMin - ran, blocked: 0, down: 0, held: 0 },
      waits: [],
      made: Math.round(ran * need),
    };
  });

  const full = need * count;
  const settled = rate(settledRate);
  const loss = Math.round(perMin.reduce((sum, _, i) => sum + (settledRate - (smooth[i] ?? 0)) * (endMin / samples), 0));
  const settling = {
    time_min: settledFrom,
    tolerance: 0.05,
    within_tolerance_min: within,
    to_50_min: 0.4,
    to_90_min: within * 0.8,
    to_95_min: within,
    to_99_min: Math.max(within, settledFrom * 0.9),
    counted_from_min: 0,
    pattern_from_min: settledFrom * 1.01,
    first_product_min: 0.3,
  };
  const output = {
    full_per_min: rate(full),
    settled_per_min: settled,
    made: Math.round(settledRate * 240 - loss),
    ramp_up_loss: loss,
    ramp_up_loss_min: loss / settledRate,
  };
  const settledHoldUp = total.at(-1) ?? 0;
  return {
    result: {
      title: options.title ?? "Cartoners on one chained belt",
      tick_s: "1/10",
      horizon_min: 240,
      seed: "1",
      settling: {
        ...settling,
        proved: true,
        basis: "recurrence",
        flow_time_min: rate(settledFrom * 0.985),
        period_min: 1 / 15,
        full_share: 1,
        still_changing: [],
        stretches: [],
      },
      output: { ...output, made_by_item: { carton: output.made }, settled_by_item_per_min: { carton: settled } },
      lines: [
        {
          id: "main",
          machines: machineResults.map((machine) => machine.id),
          items: [{ item: "pouch", needs_per_min: rate(full), settled_per_min: settled }],
          settling,
          output,
        },
      ],
      machines: machineResults,
      belts: Array.from({ length: Math.max(0, count - 1) }, (_, m) => ({
        id: `main.through-${m + 1}`,
        from: `main.divider-${m + 1}`,
        to: m === count - 2 ? id(m + 1) : `main.divider-${m + 2}`,
        rate_per_min: rate(need * count * 1.125),
        settled_per_min: rate(need * (count - 1 - m)),
        headroom_per_min: rate(need * count * 1.125 - need * (count - 1 - m)),
      })),
      hold_up: {
        peak,
        peak_at_min: timesMin[total.indexOf(peak)] ?? 0,
        settled: settledHoldUp,
        settled_low: settledHoldUp,
        settled_high: settledHoldUp,
        by_item: { pouch: settledHoldUp, carton: 0 },
        by_place: [{ place: "cartoner", part: "infeed", item: "pouch", settled: settledHoldUp, peak }],
        over_limit_min: 0,
      },
      dwell: { mean_min: 2.6, longest_min: 3.5, by_item_min: { pouch: 2.6 }, over_limit_items: 0 },
      feeds: [
        {
          id: "blender",
          items: [{ item: "pouch", share: "1" }],
          rate_per_min: rate(feed),
          settled_per_min: rate(Math.min(feed, settledRate)),
          fed: Math.round(settledRate * 240),
        },
      ],
      outlets: [],
      bottlenecks: [],
      jams: [],
      cuts: [],
      batches: [],
      limits: [],
      mixes: [],
      flow: {
        settled_per_min: settled,
        settling_min: rate(settledFrom * 0.985),
        ramp_up_loss: rate(loss * 0.98),
        events: fullAt.flatMap((at, m) =>
          at === null ? [] : [{ at_min: rate(at), what: "full" as const, where: id(m) }],
        ),
      },
      no_flow: null,
      warnings: [],
    },
    series: {
      timesMin,
      repeatsWithMin: 1 / 15,
      machines: machineSeries,
      output: { perMin, movingAveragePerMin: smooth, averagedOverMin: 1 },
      holdUp: [
        { item: "pouch", level: total },
        { item: "carton", level: zero.map((_, i) => Math.min(count * 2, i % 7)) },
      ],
      surges: [],
    },
  };
}
