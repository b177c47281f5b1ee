/** Whatever a file holds, the answer is a result or findings: never an exception, a hang or a figure that is none. */
import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import { expect, test } from "vitest";
import {
  analyse,
  asCustom,
  estimate,
  estimateText,
  type Finding,
  formatFinding,
  lineFacts,
  lineFactsText,
  PLAIN_STYLE,
  type Prepared,
  prepare,
  rational,
  readScenario,
  reportFiles,
  type Scenario,
  simulate,
  solveFlow,
  summary,
  writeScenario,
} from "../../src/index.ts";
import { formatted } from "../../src/report/text/json.ts";
import { SCENARIOS } from "./command.ts";
import { spoiled } from "./mutations.ts";
import { faultsOf } from "./result-schema.ts";

const EXAMPLES = readdirSync(SCENARIOS)
  .filter((name) => name.endsWith(".yaml"))
  .map((name) => readFileSync(`${SCENARIOS}${name}`, "utf8"));

/** The same files every time, unless asked for others: `npm run fuzz`. */
const CASES = 300 * Number(process.env.FILLFRONT_CASES ?? 1);
const SEED = Number(process.env.FILLFRONT_SEED ?? 20);
/** Elements times ticks of one case, so that hundreds take seconds. */
const STEPS = 100_000;
/** Of processor time. Far more than any takes; what hangs or grows without bound takes longer. */
const LONGEST_MS = 10_000;

type Ready = Extract<Prepared, { ok: true }>;

/** @returns "refused" or the basis of the result */
async function through(text: string): Promise<string> {
  const outcome = readScenario(text, { name: "spoiled" });
  if (!outcome.ok) return refusal(outcome.findings);
  wellFormed(outcome.warnings);
  const first = prepare(outcome.scenario, outcome.locate);
  if (!first.ok) return refusal(first.findings);
  wellFormed(first.warnings);
  const scenario = shortened(outcome.scenario, first);
  const prepared = prepare(scenario, outcome.locate);
  if (!prepared.ok) return refusal(prepared.findings);
  const facts = lineFactsOf(scenario, prepared);
  for (const details of [false, true]) readable(lineFactsText(facts, PLAIN_STYLE, { details }));
  expect(readScenario(writeScenario(asCustom(scenario, prepared.network))).ok).toBe(true);

  const flow = solveFlow(prepared.network);
  if (flow.applies) readable(estimateText(estimate(scenario.title, prepared.network, flow)));
  const run = simulate(prepared.program, { horizonTicks: prepared.horizonTicks, check: true });
  const { result, series } = analyse(run, scenario, flow, []);
  expect(faultsOf(formatted("run", result))).toEqual([]);
  expect(strangeNumbers(result)).toEqual([]);
  readable(summary(result));
  const files = await reportFiles(result, series, { charts: false });
  for (const [name, content] of files) if (name !== "series.csv") readable(String(content));
  return result.settling.basis;
}

function lineFactsOf(scenario: Scenario, { network, program }: Ready) {
  const settings = { title: scenario.title, tickS: program.tickS, horizonMin: scenario.horizonMin };
  return lineFacts(settings, network, solveFlow(network), []);
}

/** The same with a horizon that can be stepped through in a moment. */
function shortened(scenario: Scenario, { network, program, horizonTicks }: Ready): Scenario {
  const elements = network.connections.length + network.machines.length;
  const ticks = Math.max(1, Math.floor(STEPS / elements));
  return ticks >= horizonTicks
    ? scenario
    : { ...scenario, horizonMin: program.tickS.mul(rational(String(ticks))).div(60n) };
}

function refusal(findings: readonly Finding[]): string {
  expect(findings.some(({ severity }) => severity === "error")).toBe(true);
  wellFormed(findings);
  return "refused";
}

function wellFormed(findings: readonly Finding[]): void {
  for (const finding of findings) {
    const text = formatFinding(finding, "spoiled.yaml");
    expect(text).toMatch(/^spoiled\.yaml(:\d+:\d+)?: (warning: )?\S.{8}/);
    readable(text);
  }
}

/** Figures that are none, as JavaScript prints them. */
function readable(text: string): void {
  expect(text.trim()).not.toBe("");
  expect(text).not.toMatch(/\bNaN\b|\bInfinity\b|\bundefined\b|\[object/);
}

function strangeNumbers(value: unknown): unknown[] {
  if (typeof value === "number") return Number.isFinite(value) ? [] : [value];
  return typeof value === "object" && value !== null ? Object.values(value).flatMap(strangeNumbers) : [];
}

test("spoiled scenarios are refused with findings or run to a result", async () => {
  const outcomes = new Map<string, number>();
  await fc.assert(
    fc.asyncProperty(spoiled(EXAMPLES), async (text) => {
      const before = process.cpuUsage();
      const outcome = await through(text);
      const { user, system } = process.cpuUsage(before);
      expect((user + system) / 1000).toBeLessThan(LONGEST_MS);
      outcomes.set(outcome, (outcomes.get(outcome) ?? 0) + 1);
    }),
    { numRuns: CASES, endOnFailure: true, seed: SEED },
  );
  // The edits are neither all fatal nor all harmless.
  const refused = outcomes.get("refused") ?? 0;
  expect(refused).toBeGreaterThan(CASES / 4);
  expect(refused).toBeLessThan((CASES * 19) / 20);
});
