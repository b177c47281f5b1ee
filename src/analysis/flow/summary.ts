/** From the phases of a plant to what it comes to in the end. */
import { type Rational, ratio, sum, ZERO } from "../../quantity/rational.ts";
import type { FlowClock } from "./clock.ts";
import type { FlowGraph } from "./graph.ts";
import { amountOf, minus, rationalOf, times, total } from "./number.ts";
import { type FlowDetail, type FlowPhase, firstOfLast } from "./phase.ts";
import type { FlowMeans, FlowPeriod, FlowSolution } from "./solution.ts";

/** @param repeats the phase that begins the pattern repeated, and the clock at its end; `null`: all is constant at last */
export function solutionOf(
  graph: FlowGraph,
  phases: readonly FlowPhase[],
  repeats: { readonly from: number; readonly end: FlowClock; readonly reached: boolean } | null,
): FlowSolution {
  const fullPerMin = rationalOf(total(graph.machines.map(({ output }) => output)));
  const last = phases.at(-1);
  if (last === undefined) throw new Error("a flow solution has at least one phase");
  const first = phases[repeats?.from ?? -1];
  if (repeats === null || first === undefined) {
    const settledPerMin = last.outputPerMin;
    const settled = firstOfLast(phases, ({ outputPerMin }) => outputPerMin.equals(settledPerMin)) ?? last;
    const settlingMin = settled.fromMin;
    return {
      applies: true,
      phases,
      period: null,
      fullPerMin,
      settledPerMin,
      settlingMin,
      rampUpLoss: rationalOf(
        minus(times(amountOf(settledPerMin), amountOf(settlingMin)), amountOf(settled.madeBefore)),
      ),
      settled: once(() => meansOver([{ phase: last, share: ratio(1n, 1n) }])),
    };
  }
  const { timeMin, made } = repeats.end;
  const endMin = ratio(timeMin.numerator, timeMin.denominator);
  const period = { fromMin: first.fromMin, lengthMin: endMin.sub(first.fromMin), reached: repeats.reached };
  const settledPerMin = ratio(made.numerator, made.denominator).sub(first.madeBefore).div(period.lengthMin);
  const settlingMin = patternBegin(phases, repeats.from, period);
  const settled = phases.findLast(({ fromMin }) => fromMin.compare(settlingMin) <= 0) ?? first;
  const madeBefore = settled.madeBefore.add(settled.outputPerMin.mul(settlingMin.sub(settled.fromMin)));
  const parts = phases.slice(repeats.from).map((phase, index, all) => {
    const lasts = (all[index + 1]?.fromMin ?? endMin).sub(phase.fromMin);
    return { phase, share: lasts.div(period.lengthMin) };
  });
  return {
    applies: true,
    phases,
    period,
    fullPerMin,
    settledPerMin,
    settlingMin,
    rampUpLoss: settledPerMin.mul(settlingMin).sub(madeBefore),
    settled: once(() => meansOver(parts)),
  };
}

/** From when the output is what it will be a period later: compared from the period's beginning backwards. */
function patternBegin(phases: readonly FlowPhase[], from: number, { fromMin, lengthMin }: FlowPeriod): Rational {
  let earlier = { index: from - 1, toMin: fromMin };
  let later = { index: phases.length - 1, toMin: fromMin.add(lengthMin) };
  for (;;) {
    const [one, other] = [phases[earlier.index], phases[later.index]];
    if (one === undefined || other === undefined || !one.outputPerMin.equals(other.outputPerMin)) return earlier.toMin;
    const [lasts, otherLasts] = [earlier.toMin.sub(one.fromMin), later.toMin.sub(other.fromMin)];
    const order = lasts.compare(otherLasts);
    const common = order <= 0 ? lasts : otherLasts;
    earlier = { index: order <= 0 ? earlier.index - 1 : earlier.index, toMin: earlier.toMin.sub(common) };
    later = { index: order >= 0 ? later.index - 1 : later.index, toMin: later.toMin.sub(common) };
  }
}

function meansOver(parts: readonly { readonly phase: FlowPhase; readonly share: Rational }[]): FlowMeans {
  const details = parts.map(({ phase, share }) => ({ detail: phase.detail(), share }));
  const mean = (partOf: (detail: FlowDetail) => Rational): Rational =>
    sum(details.map(({ detail, share }) => partOf(detail).mul(share)));
  const first = details[0]?.detail;
  return {
    machines: new Map(first?.machines.map(({ id }, m) => [id, mean(({ machines }) => machines[m]?.running ?? ZERO)])),
    connections: new Map(
      [...(first?.connections.keys() ?? [])].map((id) => [id, mean(({ connections }) => connections.get(id) ?? ZERO)]),
    ),
    feeds: new Map([...(first?.feeds.keys() ?? [])].map((id) => [id, mean(({ feeds }) => feeds.get(id) ?? ZERO)])),
  };
}

function once<T>(work: () => T): () => T {
  let done: { readonly result: T } | null = null;
  return () => {
    done ??= { result: work() };
    return done.result;
  };
}
