/**
 * The page looks as it did, at three widths and on paper, beyond a tolerance. After a change on purpose, look at what
 * `FILLFRONT_GOLDEN=write npx vitest run test/page/screens.test.ts` writes: the stored pictures, and the README's.
 */
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { ROOT } from "../tidy/sources.ts";
import { CHROMIUM, launch, MAY_SKIP } from "./browser.ts";
import { comparisonPageOf, runPageOf, textOf } from "./reports.ts";
import { others, packed, seen } from "./screens.ts";

const isMissing = CHROMIUM === null;
const MOST_OTHERS = 0.004;
/** Of ticks of 1/40 s. */
const SEVEN_MINUTES = 16_800;
const isWriting = process.env.FILLFRONT_GOLDEN === "write";

describe.skipIf(isMissing && MAY_SKIP)("in Chromium", () => {
  let browser: Browser;
  let run: string;
  let comparison: string;
  beforeAll(async () => {
    browser = await launch();
    const text = await textOf("long-chain");
    run = (await runPageOf(text, "long-chain")).file;
    comparison = await comparisonPageOf(text, "long-chain", 6);
  }, 120_000);
  afterAll(() => browser?.close());

  test.each([
    ["run-1280", 1280],
    ["run-768", 768],
    ["run-320", 320],
    ["run-a4", "A4"],
    ["comparison-1280", 1280],
    ["comparison-a4", "A4"],
  ] as const)("%s", async (name, width) => {
    const file = name.startsWith("run") ? run : comparison;
    // As narrow as a phone's it is long: half of it shows what moved.
    const at = width === 320 ? 160 : 320;
    const stored = join(ROOT, "test/page/screens", `${name}.webp`);
    const now = await seen(browser, { file, width, tick: SEVEN_MINUTES });
    if (isWriting) await writeFile(stored, await packed(now, at));
    expect(await others(now, await readFile(stored), at)).toBeLessThan(MOST_OTHERS);
    // A later moment is another picture.
    if (name === "run-320") {
      const later = await seen(browser, { file, width, tick: 4200 });
      expect(await others(later, await readFile(stored), at)).toBeGreaterThan(MOST_OTHERS);
    }
  });

  test.runIf(isWriting)("the README's picture", async () => {
    const top = await seen(browser, { file: run, width: 1000, tick: SEVEN_MINUTES, upTo: "Over time" });
    await writeFile(join(ROOT, "reports/page.webp"), await packed(top, 1000));
  });
});
