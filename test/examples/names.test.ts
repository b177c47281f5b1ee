/** Names that JavaScript's objects have by nature are names like any other: an example under them is the same plant. */
import { describe, expect, test } from "vitest";
import { analyse } from "../../src/analysis/analyse.ts";
import { estimate } from "../../src/analysis/estimate.ts";
import { solveFlow } from "../../src/analysis/flow/flow.ts";
import { simulate } from "../../src/engine/simulate.ts";
import { estimateText } from "../../src/report/estimate/estimate-text.ts";
import { reportFiles } from "../../src/report/files/run-files.ts";
import { summary } from "../../src/report/run/summary.ts";
import { PLAIN_STYLE } from "../../src/report/text/terminal-lines.ts";
import { readScenario } from "../../src/scenario/read.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { writeScenario } from "../../src/scenario/write.ts";
import { withCures } from "../../src/study/further/cures.ts";
import { EXAMPLES, prepared, textOf } from "./examples.ts";

const BY_NATURE = Object.getOwnPropertyNames(Object.prototype).filter((name) => !name.startsWith("__"));

function itemsOf({ feeds, machines }: Scenario): string[] {
  const lists = [...feeds.map(({ items }) => items), ...machines.flatMap(({ takes, makes }) => [takes, makes])];
  return [...new Set(lists.flat().map(({ item }) => item))];
}

/** Whole words only. */
function renamed(text: string, names: ReadonlyMap<string, string>): string {
  const either = [...names.keys()].join("|");
  return text.replace(new RegExp(`(?<![\\w-])(?:${either})(?![\\w-])`, "g"), (name) => names.get(name) ?? name);
}

async function allSaid(text: string): Promise<string[]> {
  const { outcome, prepared: ready } = prepared("renamed", text);
  const { scenario } = outcome;
  // Long enough for everything to be done and told.
  const horizonTicks = Math.min(
    ready.horizonTicks,
    Math.round((20 * ready.horizonTicks) / Number(scenario.horizonMin.valueOf())),
  );
  const run = simulate(ready.program, { horizonTicks, seed: scenario.seed });
  const flow = solveFlow(ready.network);
  const analysis = analyse(run, scenario, flow);
  const result = withCures(analysis.result, scenario, run);
  const files = await reportFiles(result, analysis.series, { charts: false });
  return [
    ...[...files.values()].map(String),
    summary(result, PLAIN_STYLE, { details: true }),
    ...(flow.applies
      ? [estimateText(estimate(scenario.title, ready.network, flow), PLAIN_STYLE, { details: true })]
      : []),
    writeScenario(scenario),
  ];
}

describe.each(EXAMPLES)("%s", (name) => {
  const text = textOf(name)
    .replace(/^title: .*$/m, "title: Renamed")
    .replace(/#.*$/gm, "");
  const items = itemsOf(prepared(name, text).outcome.scenario);

  test("items", async () => {
    expect(items.length).toBeLessThanOrEqual(BY_NATURE.length);
    const plain = new Map(items.map((item, i) => [item, `kind${i}x`.padEnd(BY_NATURE[i]?.length ?? 0, "x")]));
    const back = new Map([...plain.values()].map((item, i) => [item, BY_NATURE[i] ?? ""]));
    const [usual, byNature] = [renamed(text, plain), renamed(renamed(text, plain), back)];
    const said = (await allSaid(byNature)).join("\n");
    expect(said).not.toMatch(/function |\[native|\[object/);
    expect(said).toBe(renamed((await allSaid(usual)).join("\n"), back));
  });

  test("__proto__ is refused", () => {
    for (const item of items) {
      const outcome = readScenario(renamed(text, new Map([[item, "__proto__"]])));
      expect(outcome).toMatchObject({ ok: false });
    }
  });
});
