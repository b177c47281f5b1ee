/** Small lines to fit, and what would be counted at them. */
import { observe } from "../../../src/engine/observe.ts";
import { prepare } from "../../../src/network/prepare.ts";
import { ticksWithin } from "../../../src/network/tick.ts";
import { rational } from "../../../src/quantity/rational.ts";
import { scenarioReader } from "../../../src/scenario/read.ts";
import { fitScenario } from "../../../src/study/fit/fit.ts";
import { type FitPlan, planFit } from "../../../src/study/fit/fit-given.ts";
import type { FitDone } from "../../../src/study/fit/fit-results.ts";
import { settingsOf } from "../../../src/study/fit/model.ts";
import { targetsOf } from "../../../src/study/fit/targets.ts";
import { type Unknown, unknownOf } from "../../../src/study/fit/unknowns.ts";

/** Three machines on a chain, fed a little more than they need. */
export const LINE = `
title: Three cartoners (invented)
horizon: 1 h
feeds:
  blender: { item: pouch, rate: 100/min }
machines:
  cartoner: { count: 3, cycle: 2 s, takes: { pouch: 1 }, makes: { carton: 1 }, infeed: 30, outfeed: 20 }
lines:
  main: { layout: chain, from: blender, to: cartoner, belt: { rate: 150/min, capacity: 20, transit: 4 s } }
`;

/** Two kinds meet in a machine: what comes of either is as much as comes of the other. */
export const MEETING = `
title: Body and lid (invented)
horizon: 1 h
feeds:
  bodies: { item: body, rate: 30/min }
  lids: { item: lid, rate: 30/min }
machines:
  seamer: { cycle: 1 s, takes: { body: 1, lid: 1 }, makes: { tin: 1 }, infeed: 50, outfeed: 20 }
lines:
  bodies-line: { layout: chain, from: bodies, to: seamer, belt: { rate: 150/min, capacity: 20, transit: 4 s } }
  lids-line: { layout: chain, from: lids, to: seamer, belt: { rate: 150/min, capacity: 20, transit: 4 s } }
`;

export function unknowns(...texts: readonly string[]): Unknown[] {
  return texts.map((text) => {
    const found = unknownOf(text);
    if (typeof found === "string") throw new Error(`${text}: ${found}`);
    return found;
  });
}

/** Odd times, apart from one another and from every cycle. */
export function oddTimes(count: number, apart: number): string[] {
  return Array.from({ length: count }, (_, n) => (apart * (n + 1) + ((n * 7) % 5) * 0.017).toFixed(3));
}

/** What a run with these values has whole at these times, as a file of counts. @param error added to each count */
export function countsOf(
  text: string,
  set: readonly Unknown[],
  values: readonly number[],
  names: readonly string[],
  times: readonly string[],
  error: () => number = () => 0,
): string {
  const outcome = scenarioReader(text)(settingsOf(set, values));
  if (!outcome.ok) throw new Error("not read");
  const prepared = prepare(outcome.scenario);
  if (!prepared.ok) throw new Error("not prepared");
  const { program } = prepared;
  const { known } = targetsOf(program);
  const seen = observe(
    program,
    times.map((time) => ticksWithin(rational(time), program.tickS)),
  );
  const rows = times.map((time, row) => [
    time,
    ...names.map((name) => countText((known.get(name)?.at(seen, row) ?? Number.NaN) + error())),
  ]);
  return [["time_min", ...names], ...rows].map((row) => row.join(",")).join("\n");
}

/** Decimals, so that errors are as they are and not what rounding makes of them. */
function countText(count: number): string {
  return Math.max(0, count).toFixed(3);
}

export function planned(text: string, set: readonly Unknown[], observed: string): Extract<FitPlan, { ok: true }> {
  const plan = planFit({ text, name: "line", change: (same) => same, unknowns: set, observed, errors: new Map() });
  if (!plan.ok) throw new Error(JSON.stringify(plan));
  return plan;
}

export async function fitted(text: string, set: readonly Unknown[], observed: string): Promise<FitDone> {
  return fitScenario(planned(text, set, observed));
}

/** Normal deviates with the deviation 1 from a seed: G. E. P. Box and M. E. Muller (1958), on a Lehmer generator. */
export function normal(seed: number): () => number {
  let state = seed;
  const next = (): number => {
    state = (state * 16807) % 2147483647;
    return state / 2147483647;
  };
  return () => Math.sqrt(-2 * Math.log(next())) * Math.cos(2 * Math.PI * next());
}
