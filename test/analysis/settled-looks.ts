/** One random line looked at in several ways: for longer, with a shorter tick, without proof; and where the looks differ. */
import { analyse } from "../../src/analysis/analyse.ts";
import { solveFlow } from "../../src/analysis/flow/flow.ts";
import type { Output, Result, Settling } from "../../src/analysis/result.ts";
import { type Run, simulate } from "../../src/engine/simulate.ts";
import { prepare } from "../../src/network/prepare.ts";
import { approximate, rational } from "../../src/quantity/rational.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { flowUnlessProved } from "../../src/study/second-opinion.ts";
import { type SettledLine, scenarioOf } from "./settled-lines.ts";

export interface Look {
  readonly what: string;
  readonly result: Result;
  readonly run: Run;
}

/** For longer, and without proof. */
export function longerLooks(line: SettledLine, isThorough: boolean): Look[] {
  return [
    look(scenarioOf(line, "4 h"), "4 h"),
    look(scenarioOf(line, "8 h"), "8 h"),
    look(scenarioOf(line, "24 h"), "24 h"),
    look(scenarioOf(line, "4 h"), "4 h, unproved", true),
    ...(isThorough ? [look(scenarioOf(line, "24 h"), "24 h, unproved", true)] : []),
  ];
}

/** With shorter ticks. */
export function finerLooks(line: SettledLine, isThorough: boolean): Look[] {
  const at = (horizon: string, stepAll: boolean): Look[] => {
    const base = look(scenarioOf(line, horizon), horizon, stepAll);
    const finer = [2n, 10n].map((parts) => {
      const tickS = base.run.program.tickS.div(parts);
      return look({ ...scenarioOf(line, horizon), tickS }, `${horizon}, tick / ${parts}`, stepAll);
    });
    return [base, ...finer];
  };
  return [...at("4 h", false), ...(isThorough ? at("8 h", true) : [])];
}

export function look(scenario: Scenario, what: string, stepAll = false): Look {
  const prepared = prepare(scenario);
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
  const { network, program, horizonTicks } = prepared;
  const run = simulate(program, { horizonTicks, stepAll });
  const hasStretches = scenario.feeds.some(({ profile }) => profile.length > 1);
  const flow = hasStretches ? solveFlow(network) : flowUnlessProved(run, () => solveFlow(network));
  return { what, run, result: analyse(run, scenario, flow).result };
}

/** What is allowed: a share, or minutes, or what is made in them. */
export interface Allowed {
  readonly share: number;
  readonly minutes: number;
}

export const ALLOWED: Allowed = { share: 0.02, minutes: 0.2 };

interface Told {
  readonly settling: Settling;
  readonly output: Output;
}

/** What moves by more from look to look among those that say it has settled. */
export function moves(looks: readonly Look[], { share, minutes }: Allowed = ALLOWED): string[] {
  const groups = ["", ...(looks[0]?.result.lines ?? []).map(({ id }) => id)];
  return groups.flatMap((id) => {
    const told = looks.flatMap(({ what, result }) => {
      const one: Told | undefined = id === "" ? result : result.lines.find((line) => line.id === id);
      return one === undefined || one.settling.time_min === null ? [] : [{ what, ...one }];
    });
    const apart = (name: string, of: (one: Told) => number | null, least: number): string[] => {
      const found = told.flatMap((one) => of(one) ?? []);
      const [low, high] = [Math.min(...found), Math.max(...found)];
      const most = Math.max(least, share * Math.max(Math.abs(low), Math.abs(high)));
      if (found.length === 0 || high - low <= most) return [];
      const each = told.map((one) => `${one.what}: ${of(one)?.toFixed(3)}`).join(", ");
      return [`${id || "plant"} ${name} ${each}`];
    };
    const perMin = Math.max(0, ...told.map(({ output }) => settledPerMin(output)));
    return [
      ...apart("95 %", ({ settling }) => settling.to_95_min, minutes),
      ...apart("full", ({ settling }) => settling.time_min, minutes),
      ...apart("loss", ({ output }) => output.ramp_up_loss, minutes * perMin),
    ];
  });
}

/** A machine is one that counts if it makes this part of an equal share; its own settling by itself is coarser by a cycle. */
const COUNTS = 1 / 4;
const EARLIER = 0.05;

/**
 * What is out of order in a look: 95 % after full, full before the machines concerned have begun, or long before they have
 * settled as the longest look has it, since single machines are not held to the horizon.
 */
export function disorder({ what, result, run }: Look, longest: Look): string[] {
  const groups: { id: string; told: Told; line: string | null }[] = [
    { id: "plant", told: result, line: null },
    ...result.lines.map((line) => ({ id: line.id, told: line, line: line.id })),
  ];
  return groups.flatMap(({ id, told, line }) => {
    const { time_min: full, to_95_min: most } = told.settling;
    if (full === null || most === null) return [];
    const found: string[] = [];
    if (most > full) found.push(`${what}: ${id} 95 % at ${most}, full at ${full}`);
    const members = makersOf(result, run).filter((one) => line === null || one.line === line);
    const inAll = members.reduce((total, { perMin }) => total + perMin, 0);
    const running = members.filter(({ perMin }) => perMin > 0);
    for (const one of running) {
      if (one.perMin < (COUNTS * inAll) / running.length) continue;
      if (full < one.begunMin - 1e-9) found.push(`${what}: ${id} full at ${full}, ${one.id} begins at ${one.begunMin}`);
      const own = longest.result.machines.find(({ id: other }) => other === one.id)?.settling.time_min ?? null;
      if (own !== null && full < own - Math.max(one.cycleMin, EARLIER * own)) {
        found.push(`${what}: ${id} full at ${full.toFixed(2)}, ${one.id} at ${own.toFixed(2)}`);
      }
    }
    return found;
  });
}

/** Final machines, counted from the engine's own record of cycles. */
function makersOf(result: Result, { program, completions }: Run) {
  const tickMin = approximate(program.tickS) / 60;
  const isTaken = new Set(program.network.machines.flatMap(({ takes }) => takes.map(({ item }) => item)));
  return program.network.machines.flatMap(({ id, line, makes, takes, cycleMin }, m) => {
    if (makes.some(({ item }) => isTaken.has(item))) return [];
    const found = result.machines[m];
    const first = completions.machine.subarray(0, completions.count).indexOf(m);
    if (found === undefined || first < 0) return [];
    const taken =
      found.settled_per_min === null ? found.measured_per_min : approximate(rational(found.settled_per_min));
    const perCycle = makes.reduce((total, { count }) => total + count, 0);
    const items = takes.reduce((total, { count }) => total + count, 0);
    return {
      id,
      line,
      cycleMin: approximate(cycleMin),
      perMin: ((taken ?? 0) * perCycle) / items,
      begunMin: (completions.tick[first] ?? 0) * tickMin - approximate(cycleMin) - tickMin,
    };
  });
}

function settledPerMin(output: Output): number {
  return output.settled_per_min === null
    ? (output.measured_per_min ?? 0)
    : approximate(rational(output.settled_per_min));
}
