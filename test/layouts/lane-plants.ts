/** Lanes of given rates, from the file to the network. Belts are quick and have room, unless the line says otherwise. */
import { exact, type Rational, sum, whole, ZERO } from "../../src/quantity/rational.ts";
import { scenarioOf } from "./shared-lines.ts";

export interface LanesGiven {
  /** Items/min, by incoming lane. */
  readonly rates: readonly Rational[];
  /** Outgoing lanes: so many outlets, or machines of these needs, which nothing comes out of where a need is zero. */
  readonly to: number | readonly Rational[];
  readonly ways?: 2 | 3;
  /** What a belt carries, items/min. */
  readonly beltPerMin?: Rational;
  /** More keys of the line. */
  readonly more?: string;
}

export function lanesText({
  rates,
  to,
  ways = 3,
  beltPerMin = sum(rates).mul(whole(4)),
  more = "",
}: LanesGiven): string {
  const names = Array.from({ length: typeof to === "number" ? to : to.length }, (_, index) => `out${index + 1}`);
  const machine = (need: Rational): string =>
    // A machine that waits for a key that never comes takes nothing.
    need.equals(ZERO)
      ? "{ cycle: 1 s, takes: { can: 1, key: 1 }, makes: { box: 1 }, infeed: { can: 2, key: 1 } }"
      : `{ cycle: ${exact(need.inverse())} min, takes: { can: 1 }, makes: { box: 1 }, infeed: 20 }`;
  const machines = typeof to === "number" ? [] : to.map((need, index) => `  ${names[index]}: ${machine(need)}`);
  return `
horizon: 3 h
feeds:
${rates.map((rate, index) => `  in${index + 1}: { item: can, rate: ${exact(rate)}/min }`).join("\n")}
machines:
  idle: { cycle: 1 s, takes: { can: 1 }, makes: { key: 1 }, infeed: 1 }
${machines.join("\n")}
lines:
  main:
    layout: lanes
    ways: ${ways}
    from: [${rates.map((_, index) => `in${index + 1}`).join(", ")}]
    to: [${names.join(", ")}]
    belt: { rate: ${exact(beltPerMin)}/min, capacity: 40, transit: 0 s }
${more}
${typeof to === "number" ? `outlets: { ${names.map((name) => `${name}: { item: can }`).join(", ")} }` : ""}
`;
}

export const lanesPlant = (given: LanesGiven) => scenarioOf(lanesText(given));
