/** fillfront check, estimate and schema. */
import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import {
  analyse,
  asCustom,
  estimate,
  prepare,
  type Result,
  readScenario,
  type Scenario,
  scenarioSchema,
  simulate,
  solveFlow,
  writeScenario,
} from "../../src/index.ts";
import type { Network } from "../../src/network/network.ts";
import { fillfront, SCENARIOS, scenarioFile } from "./command.ts";

const EXAMPLES = readdirSync(SCENARIOS).filter((name) => name.endsWith(".yaml"));

function read(text: string): Scenario {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  return outcome.scenario;
}

function preparedOf(scenario: Scenario) {
  const prepared = prepare(scenario);
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
  return prepared;
}

function resultOf(scenario: Scenario): Result {
  const { program, horizonTicks, network } = preparedOf(scenario);
  return analyse(simulate(program, { horizonTicks }), scenario, solveFlow(network), []).result;
}

test("check says what the line is", async () => {
  const { status, stdout, stderr } = await fillfront(["check", scenarioFile("short-chain")]);
  expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
  expect(stdout).toContain("1 feed, 8 machines, 7 dividers, 15 belts, 1 outlet");
  expect(stdout).toMatch(/least is 29\.05\/min, on\s+main\.through-1/);
  expect(stdout).toMatch(/^Reach +every machine can be reached$/m);
});

test("check --json has the same facts", async () => {
  const { status, stdout } = await fillfront(["check", scenarioFile("undersupplied-chain"), "--json"]);
  expect(status).toBe(0);
  expect(JSON.parse(stdout)).toMatchObject({
    elements: { feeds: 1, machines: 6, dividers: 5, belts: 11 },
    items: [
      { item: "bottle", fed_per_min: "225/2", fed_at_most_per_min: "150", needed_per_min: "150" },
      { item: "labelled-bottle", made_per_min: "150" },
    ],
    unreachable: [],
  });
});

test("check warns of machines that nothing comes to", async () => {
  const text = readFileSync(scenarioFile("short-chain"), "utf8");
  const stdin = text.replace(
    "machines:\n",
    "machines:\n  spare: { cycle: 1 s, takes: { pouch: 1 }, makes: { carton: 1 }, infeed: 5 }\n",
  );
  const { status, stdout, stderr } = await fillfront(["check", "-"], { stdin });
  expect(status).toBe(0);
  expect(stdout).toMatch(/^Reach +machines that can't be reached: spare$/m);
  expect(stderr).toMatch(/^standard input:\d+:\d+: warning: /);
});

test("check --network prints a scenario that runs to the same result", async () => {
  const file = scenarioFile("unequal-chain");
  const network = await fillfront(["check", file, "--network"]);
  expect(network).toMatchObject({ status: 0, stderr: "" });
  const scenario = read(readFileSync(file, "utf8"));
  expect(resultOf(read(network.stdout))).toEqual(resultOf(scenario));
});

/** Machines of unequal trees are told as the file has them, those of a line written out as the flow comes to them. */
const ORDERED_OTHERWISE = ["unequal-tree.yaml"];
const inNoOrder = ({ machines, ...rest }: Network) => ({
  ...rest,
  machines: machines.toSorted((a, b) => (a.id < b.id ? -1 : 1)),
});

test.each(EXAMPLES)("the network of %s written out is the same network", (name) => {
  const scenario = read(readFileSync(`${SCENARIOS}${name}`, "utf8"));
  const { network } = preparedOf(scenario);
  const again = preparedOf(read(writeScenario(asCustom(scenario, network)))).network;
  if (ORDERED_OTHERWISE.includes(name)) expect(inNoOrder(again)).toEqual(inNoOrder(network));
  else expect(again).toEqual(network);
});

test("estimate gives event times as fractions and minutes", async () => {
  const [text, json] = await Promise.all([
    fillfront(["estimate", scenarioFile("short-chain")]),
    fillfront(["estimate", scenarioFile("short-chain"), "--json"]),
  ]);
  expect(text).toMatchObject({ status: 0, stderr: "" });
  expect(text.stdout).toMatch(/all of it from 16\.5 min \(exactly 33\/2 min\)/);
  // Own derivation: 5/6, 3/2, 5/2, 23/6, 6, 11 for buffers of 60 at 24/min, times (90/24) / (60/24).
  expect(JSON.parse(json.stdout)).toMatchObject({
    full_per_min: "192",
    settled_per_min: "192",
    settling_min: "33/2",
    ramp_up_loss: "540",
    events: ["5/4", "9/4", "15/4", "23/4", "9", "33/2"].map((at_min) => ({ at_min, what: "full" })),
  });
  const scenario = read(readFileSync(scenarioFile("short-chain"), "utf8"));
  const { network } = preparedOf(scenario);
  const solution = solveFlow(network);
  const expected = solution.applies ? estimate(scenario.title, network, solution) : {};
  expect(JSON.parse(json.stdout)).toEqual({ format: "fillfront-estimate", format_version: 1, ...expected });
});

test("schema prints the JSON Schema, which lies beside the examples too", async () => {
  const { status, stdout, stderr } = await fillfront(["schema"]);
  expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
  expect(JSON.parse(stdout)).toEqual(scenarioSchema());
  expect(stdout).toBe(readFileSync(`${SCENARIOS}scenario.schema.json`, "utf8"));
});
