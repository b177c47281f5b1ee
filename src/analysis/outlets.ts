/** What leaves the plant by outlets, kind by kind. */
import type { Run } from "../engine/simulate.ts";
import { inMinutes } from "../network/tick.ts";
import { approximate, exact, type Rational, sum, whole, ZERO } from "../quantity/rational.ts";
import type { LongRun } from "./long-run.ts";
import type { OutletItem, OutletResult } from "./plant-results.ts";
import type { Ways } from "./ways.ts";

/** One kind at one outlet, items per minute in the long run. */
interface Leaving {
  readonly item: string;
  /** `null` where it is only measured. */
  readonly exactly: Rational | null;
  readonly measured: number;
}

/** Of outlets that something can come to. */
export function outletResults(run: Run, longRun: LongRun, ways: Ways): OutletResult[] {
  const { network, itemCount } = run.program;
  return network.outlets.flatMap(({ id }, o): OutletResult[] => {
    const leaving = leavingBy(run, longRun, ways, id);
    if (leaving.length === 0) return [];
    const exactly = leaving.map((one) => one.exactly);
    const known = exactly.filter((rate) => rate !== null);
    const isExact = known.length === exactly.length;
    const measured = leaving.reduce((total, one) => total + one.measured, 0);
    const counts = run.totals.outletItems.subarray(o * itemCount, (o + 1) * itemCount);
    return [
      {
        id,
        items: leaving.map(itemOf),
        settled_per_min: isExact ? exact(sum(known)) : null,
        ...(isExact ? {} : { measured_per_min: measured }),
        left: counts.reduce((total, count) => total + count, 0),
      },
    ];
  });
}

function itemOf({ item, exactly, measured }: Leaving): OutletItem {
  return exactly === null
    ? { item, settled_per_min: null, measured_per_min: measured }
    : { item, settled_per_min: exact(exactly) };
}

/** Items per minute of a kind that leave by an outlet. */
export function leavingPerMin(run: Run, longRun: LongRun, ways: Ways): (outlet: string, item: string) => number {
  const rates = new Map<string, number>();
  for (const { id } of run.program.network.outlets) {
    for (const { item, exactly, measured } of leavingBy(run, longRun, ways, id)) {
      rates.set(`${id} ${item}`, exactly === null ? measured : approximate(exactly));
    }
  }
  return (outlet, item) => rates.get(`${outlet} ${item}`) ?? 0;
}

function leavingBy(run: Run, longRun: LongRun, ways: Ways, id: string): Leaving[] {
  const { network, itemCount } = run.program;
  const o = network.outlets.findIndex((outlet) => outlet.id === id);
  const taken = network.outlets[o]?.item ?? null;
  return network.items.flatMap((item, i): Leaving[] => {
    if ((taken !== null && taken !== item) || ways.into(id, item).length === 0) return [];
    const at = o * itemCount + i;
    return [{ item, exactly: exactly(run, longRun, ways, id, item, at), measured: measured(run, longRun, at) }];
  });
}

/** By one period; else by the flow solution, which follows one kind on each connection. */
function exactly(
  { recurrence, program }: Run,
  { exactPassed }: LongRun,
  ways: Ways,
  id: string,
  item: string,
  at: number,
): Rational | null {
  if (recurrence) {
    return whole(recurrence.period.outletItems[at] ?? 0).div(inMinutes(recurrence.periodTicks, program.tickS));
  }
  return exactPassed && sum(ways.into(id, item).map((connection) => exactPassed[ways.indexOf(connection)] ?? ZERO));
}

function measured({ recurrence, lastQuarter, totals, horizonTicks }: Run, { toMinutes }: LongRun, at: number): number {
  if (recurrence) return (recurrence.period.outletItems[at] ?? 0) / toMinutes(recurrence.periodTicks);
  const part = lastQuarter ?? { fromTick: 0, totals };
  return (part.totals.outletItems[at] ?? 0) / toMinutes(horizonTicks - part.fromTick);
}
