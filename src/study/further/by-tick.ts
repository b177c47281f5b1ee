/** A result without the rates that hang on the tick: they stay as found, are no longer exact, and it is said how they turn. */
import type { FragileShare, HangsOnTick } from "../../analysis/fragile-results.ts";
import type { Result } from "../../analysis/result.ts";
import type { Run } from "../../engine/simulate.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import { finerLooks, isSame, type Look, type Rate, rateOf } from "./finer-looks.ts";

export function withoutWhatHangsOnTick(result: Result, scenario: Scenario, run: Run): Result {
  const looks = finerLooks(result, scenario, run);
  if (looks === null) return result;
  const fragile = looks.length === 0 ? [] : fragileIn(result, looks);
  if (looks.length > 0 && fragile.length === 0) return result;
  const shares = [...(result.fragile_shares ?? []), ...fragile];
  return {
    ...measuredIn(result, looks),
    ...(shares.length === 0 ? {} : { fragile_shares: shares }),
    hangs_on_tick: rangesIn(result, looks),
  };
}

/** Cycles of each as items taken or, where it takes several kinds, products. */
function fragileIn({ machines }: Result, looks: readonly Look[]): FragileShare[] {
  return machines.flatMap((machine): FragileShare[] => {
    const { id, settled_per_min: now } = machine;
    if (now === null) return [];
    const others = looks.flatMap((look) => look.machines.find((other) => other.id === id) ?? []);
    const turned = others.filter((other) => !isSame(machine, other));
    const farthest = turned.reduce<Rate | null>((far, one) => (far && apart(far) >= apart(one) ? far : one), null);
    function apart(rate: Rate): number {
      return Math.abs(rateOf(rate) - rateOf(machine));
    }
    if (farthest === null) return [];
    const turned_per_min = farthest.settled_per_min ?? rateOf(farthest);
    return [{ machine: id, hangs_on: "tick", settled_per_min: now, turned_per_min }];
  });
}

/** With no look at all, whatever a machine that waits takes or makes is measured only. */
function measuredIn(result: Result, looks: readonly Look[]): Result {
  return {
    ...result,
    machines: result.machines.map((machine) => {
      const isSeen = looks.length > 0 || (machine.uptime.settled ?? 1) === 1;
      const others = looks.flatMap((look) => look.machines.find(({ id }) => id === machine.id) ?? []);
      return isSeen && others.every((other) => isSame(machine.cycles, other.cycles)) ? machine : allMeasured(machine);
    }),
    lines: result.lines.map((line, i) => {
      const others = looks.map((look) => look.lines[i]);
      const output = loosened(
        line.output,
        others.map((other) => other?.output),
      );
      return { ...line, output, items: itemByItem(line, others) };
    }),
    belts: result.belts.map((belt, i) => {
      const now = loosened(
        belt,
        looks.map((look) => look.belts[i]),
      );
      return now === belt ? belt : { ...now, headroom_per_min: null };
    }),
    feeds: result.feeds.map((feed, i) =>
      loosened(
        feed,
        looks.map((look) => look.feeds[i]),
      ),
    ),
    outlets: result.outlets.map((outlet, i) => {
      const others = looks.map((look) => look.outlets[i]);
      return { ...loosened(outlet, others), items: itemByItem(outlet, others) };
    }),
  };
}

/** Whatever is listed of the same network has the same order. */
function itemByItem<R extends Rate>(
  { items }: { readonly items: readonly R[] },
  others: readonly ({ readonly items: readonly R[] } | undefined)[],
): R[] {
  return items.map((item, i) =>
    loosened(
      item,
      others.map((other) => other?.items[i]),
    ),
  );
}

function loosened<R extends Rate>(rate: R, others: readonly (Rate | undefined)[]): R {
  return others.every((other) => isSame(rate, other)) ? rate : asMeasured(rate);
}

function allMeasured(machine: Result["machines"][number]): Result["machines"][number] {
  return {
    ...asMeasured(machine),
    cycles: asMeasured(machine.cycles),
    products: machine.products.map(asMeasured),
    infeed: machine.infeed.map(asMeasured),
  };
}

function asMeasured<R extends Rate>(rate: R): R {
  return { ...rate, settled_per_min: null, measured_per_min: rateOf(rate) };
}

function rangesIn(result: Result, looks: readonly Look[]): HangsOnTick {
  const all = [result, ...looks];
  const range = (values: readonly number[]): readonly [number, number] => [Math.min(...values), Math.max(...values)];
  const dwells = all.flatMap(({ dwell }) => dwell.mean_min ?? []);
  const isKept = (of: Look["limits"], i: number): boolean => (of[i]?.peak ?? 0) <= (of[i]?.limit ?? 0);
  return {
    ticks_s: looks.map(({ tick_s }) => tick_s),
    hold_up_settled: range(all.map(({ hold_up }) => hold_up.settled)),
    dwell_mean_min: dwells.length === 0 ? null : range(dwells),
    limits: result.limits
      .filter((_, i) => looks.some((look) => isKept(look.limits, i) !== isKept(result.limits, i)))
      .map(({ what, place, item }) => ({ what, place, item })),
  };
}
