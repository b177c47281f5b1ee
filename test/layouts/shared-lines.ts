/** Trees and loops for given needs, from the file to the network. Belts are quick and have room: nothing is held up. */
import { expand } from "../../src/network/expand.ts";
import type { Network } from "../../src/network/network.ts";
import { prepare } from "../../src/network/prepare.ts";
import { exact, type Rational, sum, whole } from "../../src/quantity/rational.ts";
import type { FileFinding } from "../../src/scenario/file-finding.ts";
import { readScenario } from "../../src/scenario/read.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";

export interface SharedGiven {
  readonly layout: "tree" | "loop";
  readonly ways: number | readonly number[];
  /** Items/min, by machine. */
  readonly needs: readonly Rational[];
  readonly feedPerMin: Rational;
  /** More keys of the line. */
  readonly more?: string;
}

export function sharedPlant({ layout, ways, needs, feedPerMin, more = "" }: SharedGiven): Scenario {
  const machines = needs.map((need, index) => {
    const cycle = `${exact(need.inverse())} min`;
    return `  m${index + 1}: { cycle: ${cycle}, takes: { can: 1 }, makes: { box: 1 }, infeed: 20 }`;
  });
  const belt = `{ rate: ${exact(sum(needs).mul(whole(4)))}/min, capacity: 20, transit: 0 s }`;
  return scenarioOf(`
horizon: 3 h
feeds: { silo: { item: can, rate: ${exact(feedPerMin)}/min } }
machines:
${machines.join("\n")}
lines:
  main:
    layout: ${layout}
    ways: ${JSON.stringify(ways)}
    from: silo
    to: [${needs.map((_, index) => `m${index + 1}`).join(", ")}]
    belt: ${belt}
${more}
`);
}

export function scenarioOf(text: string): Scenario {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error(`${JSON.stringify(outcome.findings)}\n${text}`);
  return outcome.scenario;
}

export function networkOf(given: SharedGiven): Network {
  return expand(sharedPlant(given));
}

/** Of a scenario prepared to run, errors or warnings. */
export function findingsOf(text: string): readonly FileFinding[] {
  const outcome = readScenario(text);
  if (!outcome.ok) return outcome.findings;
  const prepared = prepare(outcome.scenario, outcome.locate);
  return prepared.ok ? [...outcome.warnings, ...prepared.warnings] : prepared.findings;
}
