/** What a page answers to any change is what the command line answers for the changed file, byte for byte. */
import { mkdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import fc from "fast-check";
import { expect, test } from "vitest";
import { type Knob, knobsOf, readScenario, withValue } from "../../src/index.ts";
import { CHROMIUM, launch, MAY_SKIP, openPage, tellMissing } from "../page/browser.ts";
import { emptyFolder, fillfront, scenarioFile } from "./command.ts";

const CASES = 3 * Number(process.env.FILLFRONT_CASES ?? 1);
const PLANTS = [
  "short-chain",
  "long-chain",
  "unequal-chain",
  "tin-assembly",
  "equal-loop",
  "jamming-mix",
  "unequal-tree",
  "unreliable-chain",
];

/** Of one answer, on a busy machine. */
const LONGEST_MS = 180_000;

interface Turned {
  readonly plant: string;
  /** Of the knobs there are, and how far each is turned. */
  readonly turns: readonly { readonly which: number; readonly factor: number }[];
}

const turned: fc.Arbitrary<Turned> = fc.record({
  plant: fc.constantFrom(...PLANTS),
  turns: fc.array(fc.record({ which: fc.nat(1000), factor: fc.integer({ min: 10, max: 180 }) }), {
    minLength: 1,
    maxLength: 3,
  }),
});

function turnedTo(knob: Knob, factor: number): string {
  if (knob.kind === "word") return knob.words[factor % knob.words.length] ?? knob.word;
  const value = Math.max(knob.least, Math.round((knob.number * factor) / 100 / knob.step) * knob.step);
  return `${Number(value.toPrecision(10))}${knob.unit}`;
}

function changed(text: string, { turns }: Turned): string {
  return turns.reduce((now, { which, factor }) => {
    const read = readScenario(now, {});
    const knobs = read.ok ? knobsOf(now, read.scenario) : [];
    const knob = knobs[which % Math.max(1, knobs.length)];
    return knob === undefined ? now : withValue(now, knob.path, turnedTo(knob, factor));
  }, text);
}

if (CHROMIUM === null && MAY_SKIP) tellMissing();

test.skipIf(CHROMIUM === null && MAY_SKIP)(
  "a page answers as the command line does",
  { timeout: LONGEST_MS + 20_000 * CASES },
  async () => {
    const cwd = await emptyFolder();
    await mkdir(join(cwd, "files"));
    expect(
      await fillfront(["run", scenarioFile("short-chain"), "--no-charts", "--out", "page"], { cwd }),
    ).toMatchObject({ status: 0 });
    const browser = await launch();
    try {
      const { page, complaints } = await openPage(browser, join(cwd, "page", "report.html"));
      for (const [i, one] of fc.sample(turned, { numRuns: CASES, seed: 23 }).entries()) {
        const text = changed(await readFile(scenarioFile(one.plant), "utf8"), one);
        // The name is in messages.
        const file = join("files", "short-chain.yaml");
        await writeFile(join(cwd, file), text);
        const told = await fillfront(["run", file, "--no-charts", "--out", `result-${i}`], { cwd });
        await page.locator("#text").fill(text);
        await page.waitForSelector("body:not(.stale)", { timeout: LONGEST_MS });
        const name = `case ${i}: ${JSON.stringify(one)}`;
        if (told.status !== 0) {
          const shown = (await page.locator("#messages li").allTextContents()).join("\n");
          expect(shown, name).toBe(
            told.stderr
              .replaceAll(`${file}`, "short-chain.yaml")
              .replace(/^error: /gm, "")
              .trim(),
          );
          continue;
        }
        const download = page.waitForEvent("download", { timeout: LONGEST_MS });
        await page.getByRole("button", { name: "Save its result as JSON" }).click();
        const saved = await readFile(await (await download).path(), "utf8");
        expect(saved, name).toBe(await readFile(join(cwd, `result-${i}`, "result.json"), "utf8"));
      }
      expect(complaints).toEqual([]);
    } finally {
      await browser.close();
    }
  },
);
