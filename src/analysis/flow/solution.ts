/** What the flow solution finds. */
import type { Rational } from "../../quantity/rational.ts";
import type { FlowPhase } from "./phase.ts";

export interface FlowSolution {
  readonly applies: true;
  /** From time 0 on; in the last one nothing changes any more, or `period` says when the pattern begins again. */
  readonly phases: readonly FlowPhase[];
  /**
   * Where the flows never become constant, the pattern that they repeat for ever, proved by the same levels, states and
   * supply: it begins with a phase of `phases`, and ends with the last one. `null`: the last phase lasts for ever.
   */
  readonly period: FlowPeriod | null;
  /** Products/min of the plant (of its final machines), all kinds, if no machine ever waited. */
  readonly fullPerMin: Rational;
  /** Products/min of the plant, all kinds, in the last phase, or on average over a period. */
  readonly settledPerMin: Rational;
  /** From here the output never changes again, or repeats its pattern. */
  readonly settlingMin: Rational;
  /** Products not made up to settling, against running at the settled output from the start. */
  readonly rampUpLoss: Rational;
  /** What flows in the long run: in the last phase, or on average over a period. */
  readonly settled: () => FlowMeans;
}

export interface FlowPeriod {
  readonly fromMin: Rational;
  readonly lengthMin: Rational;
  /**
   * `false`: the flows only come ever closer to the pattern. From `fromMin` on they are taken to follow it; no level is
   * then further from it than a thousandth of an item, and the pattern itself is exact.
   */
  readonly reached: boolean;
}

export interface FlowMeans {
  /** Share of the time that each machine runs, by id. */
  readonly machines: ReadonlyMap<string, Rational>;
  /** Items/min by connection id. */
  readonly connections: ReadonlyMap<string, Rational>;
  /** Items/min accepted by feed id. */
  readonly feeds: ReadonlyMap<string, Rational>;
}
