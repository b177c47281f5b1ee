/** Which of a scenario's figures matter: each a twentieth up and down, and what that does to the line. */
import type { Result, Sensitivity, SensitivityEffect } from "../../analysis/result.ts";
import type { Run } from "../../engine/simulate.ts";
import { type Rational, rational, whole } from "../../quantity/rational.ts";
import { fedAsNeeded } from "../../scenario/as-needed.ts";
import type { BeltOrNone, BeltSpec, Line, MachineGroup, Scenario } from "../../scenario/scenario.ts";
import { makesNothing, settledPerMin } from "../outcome.ts";
import { playForOutput, UnplayableError } from "../play.ts";

const LESS = rational("19/20");
const MORE = rational("21/20");

/** Of all runs together, so that a run which takes long by itself is not followed by a dozen as long. */
const MOST_WORK = 3e8;

interface Figure {
  readonly figure: Sensitivity["figure"];
  readonly id: string;
  readonly changed: (scenario: Scenario, factor: Rational) => Scenario;
}

/** With a row for each stated figure; as it is where chance plays a part, or where the runs would take long. */
export function withSensitivity(result: Result, scenario: Scenario, run: Run): Result {
  const figures = figuresOf(scenario);
  const work = 2 * figures.length * run.steppedTicks * run.program.sweepKind.length;
  if (run.program.random !== null || work > MOST_WORK) return result;
  const sensitivity = figures.map(
    ({ figure, id, changed }): Sensitivity => ({
      figure,
      id,
      less: effectOf(changed(scenario, LESS)),
      more: effectOf(changed(scenario, MORE)),
    }),
  );
  return { ...result, sensitivity };
}

/** `null`: so changed the line cannot be simulated. */
function effectOf(scenario: Scenario): SensitivityEffect | null {
  try {
    const { settling, output } = playForOutput(scenario);
    const settled_per_min = settledPerMin(output);
    const isStopped = makesNothing({ settled_per_min });
    return {
      settled_per_min,
      to_95_min: isStopped ? null : settling.to_95_min,
      ramp_up_loss: isStopped ? null : output.ramp_up_loss,
      made: output.made,
    };
  } catch (error) {
    if (error instanceof UnplayableError) return null;
    throw error;
  }
}

function figuresOf({ feeds, machines, lines }: Scenario): Figure[] {
  return [
    ...feeds.map(
      ({ id }): Figure => ({ figure: "feed", id, changed: (scenario, factor) => fed(scenario, id, factor) }),
    ),
    ...machines.flatMap(({ id }): Figure[] => [
      { figure: "cycle", id, changed: (scenario, factor) => ofGroup(scenario, id, (group) => slowed(group, factor)) },
      { figure: "room", id, changed: (scenario, factor) => ofGroup(scenario, id, (group) => widened(group, factor)) },
    ]),
    ...lines
      .filter(hasBelts)
      .map(({ id }): Figure => ({ figure: "belts", id, changed: (scenario, factor) => sped(scenario, id, factor) })),
  ];
}

/** Vehicles come more often, and are unloaded as much faster. */
export function fed(scenario: Scenario, id: string, factor: Rational): Scenario {
  return {
    ...scenario,
    feeds: scenario.feeds.map((feed) =>
      feed.id !== id
        ? feed
        : {
            ...feed,
            ofNeed: feed.ofNeed?.mul(factor) ?? null,
            profile: feed.profile.map((step) => ({ ...step, ratePerMin: step.ratePerMin.mul(factor) })),
            batch: feed.batch && { ...feed.batch, everyMin: feed.batch.everyMin.div(factor) },
          },
    ),
  };
}

function ofGroup(scenario: Scenario, id: string, change: (group: MachineGroup) => MachineGroup): Scenario {
  const machines = scenario.machines.map((group) => (group.id === id ? change(group) : group));
  return fedAsNeeded({ ...scenario, machines });
}

function slowed(group: MachineGroup, factor: Rational): MachineGroup {
  return { ...group, cycleMin: group.cycleMin.mul(factor) };
}

/** By an item at least, and never to less than a cycle takes. */
function widened(group: MachineGroup, factor: Rational): MachineGroup {
  const infeed = group.infeed.map(({ item, count }, i) => {
    const change = Math.max(1, Math.round(whole(count).mul(factor).sub(whole(count)).abs().valueOf()));
    const least = group.takes[i]?.count ?? 1;
    return { item, count: Math.max(least, factor.compare(1) < 0 ? count - change : count + change) };
  });
  return { ...group, infeed };
}

function sped(scenario: Scenario, id: string, factor: Rational): Scenario {
  return { ...scenario, lines: scenario.lines.map((line) => (line.id === id ? withBelts(line, factor) : line)) };
}

function hasBelts(line: Line): boolean {
  return line.layout === "custom"
    ? line.belts.some(({ belt }) => belt !== null)
    : line.belt !== null || line.branch !== null;
}

function withBelts(line: Line, factor: Rational): Line {
  const faster = (belt: BeltSpec): BeltSpec => ({
    ...belt,
    ratePerMin: belt.ratePerMin.mul(factor),
    transitMin: belt.transitMin.div(factor),
  });
  const maybe = (belt: BeltOrNone): BeltOrNone => belt && faster(belt);
  switch (line.layout) {
    case "custom":
      return { ...line, belts: line.belts.map((one) => ({ ...one, belt: maybe(one.belt) })) };
    case "lanes":
      return {
        ...line,
        belt: maybe(line.belt),
        branch: maybe(line.branch),
        return: line.return && faster(line.return),
      };
    case "loop":
      return { ...line, ...ofShared(line, maybe), return: faster(line.return) };
    case "tree":
      return { ...line, ...ofShared(line, maybe) };
    case "chain": {
      const end = line.end.kind === "return" ? { ...line.end, belt: faster(line.end.belt) } : line.end;
      return { ...line, ...ofShared(line, maybe), end };
    }
  }
}

function ofShared<L extends { readonly belt: BeltOrNone; readonly branch: BeltOrNone; readonly collect: BeltOrNone }>(
  { belt, branch, collect }: L,
  change: (belt: BeltOrNone) => BeltOrNone,
) {
  return { belt: change(belt), branch: change(branch), collect: change(collect) };
}
