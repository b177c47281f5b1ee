/** What options may state in place of the scenario file, within the file's limits. */
import { MAX_HORIZON_MIN, MAX_SEED_LENGTH, parseQuantity, type Rational, type Scenario } from "../index.ts";
import { RefusedError } from "./exit.ts";

export interface Overrides {
  readonly seed?: string;
  readonly horizon?: string;
}

/** @throws RefusedError */
export function overridesOf({ horizon, seed }: Overrides): (scenario: Scenario) => Scenario {
  const stated = {
    ...(horizon === undefined ? {} : { horizonMin: horizonFrom(horizon) }),
    ...(seed === undefined ? {} : { seed: seedFrom(seed) }),
  };
  return (scenario) => ({ ...scenario, ...stated });
}

/** Of a command's options those that are overrides, for worker threads. */
export function statedOverrides({ horizon, seed }: Overrides): Overrides {
  return { ...(horizon === undefined ? {} : { horizon }), ...(seed === undefined ? {} : { seed }) };
}

function horizonFrom(text: string): Rational {
  const parsed = parseQuantity("duration", text);
  if (!parsed.ok || parsed.value.compare(0) <= 0 || parsed.value.compare(MAX_HORIZON_MIN) > 0) {
    const most = MAX_HORIZON_MIN.div(24n * 60n).toString();
    throw new RefusedError(
      `--horizon ${JSON.stringify(text)}: expected a duration such as "4 h" or "90 min", up to ${most} d`,
    );
  }
  return parsed.value;
}

function seedFrom(text: string): string {
  const seed = text.trim();
  if (seed === "" || [...seed].length > MAX_SEED_LENGTH || /\p{Cc}/u.test(seed)) {
    throw new RefusedError(`--seed ${JSON.stringify(text)}: expected plain text of 1 to ${MAX_SEED_LENGTH} characters`);
  }
  return seed;
}
