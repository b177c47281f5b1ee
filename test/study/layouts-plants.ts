/** Plants to lay out, and what comes of it. */
import { reasonText } from "../../src/report/layouts/layout-words.ts";
import { readScenario } from "../../src/scenario/read.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import type { LayoutResult, Priority } from "../../src/study/layouts/layout-results.ts";
import { type LayoutsDone, layoutStudy } from "../../src/study/layouts/layouts.ts";

export interface Given {
  readonly count?: number;
  readonly cycle?: string;
  readonly speeds?: string;
  readonly feed?: string;
  readonly rate?: string;
  readonly more?: string;
  readonly end?: string;
}

export function plant({
  count = 5,
  cycle = "4 s",
  speeds = "100 %",
  feed = "75/min",
  rate = "120/min",
  more = "",
  end = "",
}: Given) {
  return scenarioOf(`horizon: 1 h
title: Test
feeds: { silo: { item: can, rate: ${feed} } }
machines: { m: { count: ${count}, cycle: ${cycle}, speed: ${speeds}, takes: { can: 1 }, makes: { box: 1 }, infeed: 10 } }
lines:
  main:
    layout: chain
    from: silo
    to: m
    belt: { rate: ${rate}, length: 2 m, speed: 60 m/min, pitch: 200 mm }
    branch: { rate: 100/min, length: 1 m, speed: 60 m/min, pitch: 200 mm }
${end}
${more}`);
}

export function scenarioOf(text: string): Scenario {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error(`${JSON.stringify(outcome.findings)}\n${text}`);
  return outcome.scenario;
}

export function studied(scenario: Scenario, priority: Priority = "fast", ways?: 2 | 3): LayoutsDone {
  const done = layoutStudy(scenario, { priority, ways });
  if (!done.ok) throw new Error(done.why);
  return done;
}

export function layoutOf({ study }: LayoutsDone, id: string): LayoutResult {
  const found = study.layouts.find((layout) => layout.id === id);
  if (found === undefined) throw new Error(`no ${id} among ${study.layouts.map((layout) => layout.id).join(", ")}`);
  return found;
}

/** Why it cannot be built or makes less, in words. */
export function worded(layout: Pick<LayoutResult, "reason"> | undefined): string | null {
  const reason = layout?.reason ?? null;
  return reason && reasonText(reason);
}
