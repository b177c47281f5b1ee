/** What the flow solution finds. */
import type { Rational } from "../../quantity/rational.ts";
import type { FlowPhase } from "./phase.ts";

export interface FlowSolution {
  readonly applies: true;
  /** From time 0 on; in the last one nothing changes any more. */
  readonly phases: readonly FlowPhase[];
  /** Products/min, all kinds, if no machine ever waited. */
  readonly fullPerMin: Rational;
  /** Products/min, all kinds, in the last phase. */
  readonly settledPerMin: Rational;
  /** From here the output never changes again. */
  readonly settlingMin: Rational;
  /** Products not made up to settling, against running at the settled output from the start. */
  readonly rampUpLoss: Rational;
}
