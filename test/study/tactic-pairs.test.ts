/** Every pair of parts of tactics: each changes the run, or a finding or a note says why not. */

import { describe, expect, test } from "vitest";
import { eventsUpTo } from "../../src/analysis/events.ts";
import { noteText } from "../../src/report/text/tactic-words.ts";
import { readScenario } from "../../src/scenario/read.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { statedParts, type Tactic, type TacticPart } from "../../src/scenario/tactic.ts";
import { saysStart } from "../../src/scenario/tactic-parts.ts";
import { compareTactics } from "../../src/study/comparison/compare.ts";
import { NO_TACTIC, play, tryOutRun } from "../../src/study/play.ts";

const BODIES: Readonly<Record<TacticPart, readonly string[]>> = {
  prefill: [
    "prefill: full",
    "prefill: 7, by-hand: 60/min",
    "prefill: full, prefill-of: last 2, by-hand: 60/min, while: running",
    "prefill: full, prefill-belts: full",
  ],
  hold: [
    "hold: { until: own-full, release: head-first, every: 5 s }",
    "hold: { until: all-full }",
    "hold: { until: 40 s, release: tail-first, every: 10 s }",
  ],
  stagger: ["stagger: { first: tail, every: 20 s }"],
  boost: ["boost: { to: 120 %, for: 2 min }"],
  lowLevel: ["low-level: { at: 5, for: 3 min }", "low-level: { at: 5 }"],
  metered: ["metered: { at: 105 % }"],
  farEndFirst: ["far-end-first: { until: tail-full }", "far-end-first: { until: 40 s }"],
  secondFeed: ["second-feed: { share: 30 %, at: m-3, for: 2 min }"],
};
const STATED = Object.values(BODIES).flat();
const STARTING = statedParts(BODIES)
  .filter(saysStart)
  .flatMap((part) => BODIES[part]);

const plant = (line: string): string => `
horizon: 10 min
feeds: { bin: { item: raw, rate: 120/min } }
machines: { m: { count: 4, cycle: 2 s, takes: { raw: 1 }, makes: { part: 1 }, infeed: 20, outfeed: 5 } }
lines: { main: { ${line}, from: bin, to: m, belt: { rate: 180/min, capacity: 10, transit: 2 s } } }
`;

const LINES = [
  ["an even chain", "layout: chain"],
  ["a chain with ordered dividers", "layout: chain, dividers: branch-first"],
  ["a tree", "layout: tree"],
] as const;

/** When which cycle was finished up to the horizon, what was placed and fed, and what lay there on average. */
function seen(scenario: Scenario, tactic: Tactic): string {
  const { itemsHandled, startsAfterMin, output, result } = play(scenario, tactic);
  const { run } = tryOutRun(scenario, tactic);
  const finished = Array.from(eventsUpTo(output.made, output.endTick).tick);
  const made = result.machines.map((one) => [one.made, one.first_item_min, one.minutes.running, one.minutes.blocked]);
  const lay = [...run.totals.placed, ...run.totals.fed, ...run.totals.bufferTicks, ...run.totals.holdUpTicks];
  return JSON.stringify([itemsHandled, startsAfterMin, finished, made, lay, run.totals.dwellTicks.join(" ")]);
}

const NAMES: Readonly<Record<TacticPart, RegExp>> = {
  prefill: /^prefill|placed/,
  hold: /^hold/,
  stagger: /^stagger/,
  boost: /^boost|feeds run at/,
  lowLevel: /^low-level/,
  metered: /^metered|cannot be metered/,
  farEndFirst: /^far-end-first|serve the far end first/,
  secondFeed: /^second-feed|second feed could join/,
};

describe.each(LINES)("%s", (_, line) => {
  const text = plant(line);
  const pairs = STATED.flatMap((one, i) => STATED.slice(i + 1).map((other) => [one, other] as const));

  test("each part of a pair changes the run, or it is said that it does not", () => {
    let refused = 0;
    let idle = 0;
    for (const [one, other] of pairs) {
      const key = (body: string): string | undefined => /^[a-z-]+/.exec(body)?.[0];
      if (key(one) === key(other)) continue;
      const read = readScenario(`${text}tactics: { pair: { ${one}, ${other} } }\n`);
      expect(read.ok).toBe(!(STARTING.includes(one) && STARTING.includes(other)));
      if (!read.ok) {
        expect(read.findings.map(({ code }) => code)).toEqual(["two-starts"]);
        refused++;
        continue;
      }
      const { scenario } = read;
      const [tactic = NO_TACTIC] = scenario.tactics;
      const own = seen(scenario, tactic);
      // What does nothing has no row of its own.
      const notes = compareTactics(scenario, [tactic]).comparison.tactics.flatMap((row) =>
        row.notes.map((note) => noteText(note.note === "alike" ? note.of : note)),
      );
      for (const part of statedParts(tactic)) {
        const without = seen(scenario, { ...tactic, [part]: null });
        const told = notes.filter((note) => NAMES[part].test(note));
        if (without === own) {
          expect([one, other, part, told.length]).toEqual([one, other, part, 1]);
          idle++;
        } else if (told.some((note) => note.includes("changes nothing"))) {
          expect([one, other, part, without]).toEqual([one, other, part, own]);
        }
      }
    }
    expect(refused).toBeGreaterThan(2);
    expect(idle).toBeGreaterThan(0);
  });
});

test("loaded belts that change nothing are told apart from the stock that goes with them", () => {
  const read = readScenario(
    `${plant("layout: chain").replace(/belt: \{.*?\}/, "belt: none")}tactics: { t: { prefill: full, prefill-belts: full } }\n`,
  );
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  const tactics = compareTactics(read.scenario, read.scenario.tactics).comparison.tactics;
  expect(tactics.find(({ id }) => id === "t")?.notes.map(noteText)).toEqual([
    "prefill-belts changes nothing here: without it the line runs alike, item for item",
  ]);
});
