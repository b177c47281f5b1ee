/**
 * The main figures of every example, to the last digit, so that no change of the engine or the analysis goes unnoticed.
 * Where a change is meant, write them anew and read the difference:
 *
 *     FILLFRONT_GOLDEN=write npx vitest run test/examples
 */
import { readFileSync, writeFileSync } from "node:fs";
import { expect, test } from "vitest";
import type { Result } from "../../src/analysis/result.ts";
import { EXAMPLES, ran } from "./examples.ts";

const FILE = new URL("golden.json", import.meta.url);

function figures({ tick_s, settling, output, machines, feeds, hold_up }: Result) {
  return {
    tick_s,
    settling,
    output,
    hold_up: { settled: hold_up.settled, peak: hold_up.peak },
    feeds: feeds.map(({ id, settled_per_min, fed }) => ({ id, settled_per_min, fed })),
    machines: machines.map(({ id, settled_per_min, full_rate_from_min, infeed }) => ({
      id,
      settled_per_min,
      full_rate_from_min,
      full_at_min: infeed.map(({ full_at_min }) => full_at_min),
    })),
  };
}

test("every example gives the figures on record", () => {
  const found = Object.fromEntries(EXAMPLES.map((name) => [name, figures(ran(name).result)]));
  const text = `${JSON.stringify(found, null, 2)}\n`;
  if (process.env.FILLFRONT_GOLDEN === "write") writeFileSync(FILE, text);
  expect(JSON.parse(text)).toStrictEqual(JSON.parse(readFileSync(FILE, "utf8")));
});
