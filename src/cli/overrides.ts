/** What options may state in place of the scenario file, within the file's limits. */
import {
  type Horizon,
  isPrintable,
  MAX_HORIZON_MIN,
  MAX_SEED_LENGTH,
  openHorizon,
  parseQuantity,
  type Scenario,
  statedHorizon,
} from "../index.ts";
import { RefusedError } from "./exit.ts";

export interface Overrides {
  readonly seed?: string;
  readonly horizon?: string;
}

/** @throws RefusedError */
export function overridesOf({ horizon, seed }: Overrides): (scenario: Scenario) => Scenario {
  const horizonOf = horizon === undefined ? (scenario: Scenario): Horizon => scenario : horizonFrom(horizon);
  const stated = seed === undefined ? {} : { seed: seedFrom(seed) };
  return (scenario) => {
    const { horizonMin, horizonIsAuto } = horizonOf(scenario);
    return { ...scenario, horizonMin, horizonIsAuto, ...stated };
  };
}

/** Of a command's options those that are overrides, for worker threads. */
export function statedOverrides({ horizon, seed }: Overrides): Overrides {
  return { ...(horizon === undefined ? {} : { horizon }), ...(seed === undefined ? {} : { seed }) };
}

function horizonFrom(text: string): (scenario: Scenario) => Horizon {
  if (text.trim() === "auto") return ({ feeds }) => openHorizon(feeds);
  const parsed = parseQuantity("duration", text);
  if (!parsed.ok || parsed.value.compare(0) <= 0 || parsed.value.compare(MAX_HORIZON_MIN) > 0) {
    const most = MAX_HORIZON_MIN.div(24n * 60n).toString();
    throw new RefusedError(
      `--horizon ${JSON.stringify(text)}: expected auto, or a duration such as "4 h" or "90 min", up to ${most} d`,
    );
  }
  const horizon = statedHorizon(parsed.value);
  return () => horizon;
}

function seedFrom(text: string): string {
  const seed = text.trim();
  if (seed === "" || [...seed].length > MAX_SEED_LENGTH || !isPrintable(seed)) {
    throw new RefusedError(`--seed ${JSON.stringify(text)}: expected plain text of 1 to ${MAX_SEED_LENGTH} characters`);
  }
  return seed;
}
