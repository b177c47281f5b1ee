/** The page in a real browser: what it shows is what the result says, and it asks nobody for anything. */

import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { CHROMIUM, goTo, launch, MAY_SKIP, openPage, ready, tellMissing } from "./browser.ts";
import { comparisonPageOf, layoutsPageOf, runPageOf, shortagePageOf, textOf } from "./reports.ts";

const isMissing = CHROMIUM === null;
if (isMissing && MAY_SKIP) tellMissing();
const HOSTILE = `<script>alert(1)</script> "it's" & <img src=x onerror=alert(2)> </title></script><!--`;

describe.skipIf(isMissing && MAY_SKIP)("in Chromium", () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launch();
  });
  afterAll(() => browser?.close());

  test.each(["long-chain", "tin-assembly", "equal-loop", "jamming-mix"])(
    "%s: at marked times its numbers are the result's",
    async (name) => {
      const { file, result } = await runPageOf(await textOf(name), name);
      const { page, complaints } = await openPage(browser, file);
      const tickMin = result.horizon_min / Number(await page.locator("#time").getAttribute("max"));
      const numbers = page.locator(".numbers");
      // The buffers of a loop stay next to empty.
      const shown = name === "equal-loop" ? "Output over time" : "How the buffers fill, machine by machine";
      expect(await page.locator("#sheet-heading").textContent()).toBe(shown);
      await goTo(page, Math.round(result.horizon_min / tickMin));
      expect(await numbers.getAttribute("data-made")).toBe(String(result.output.made));
      await goTo(page, Math.round(result.hold_up.peak_at_min / tickMin));
      expect(await numbers.getAttribute("data-held")).toBe(String(result.hold_up.peak));
      await page.getByText("Machines at this moment, as a table").click();
      const row = page.locator("[data-film] tbody tr");
      for (const [m, { id, infeed }] of result.machines.entries()) {
        const [{ full_at_min: at, capacity } = { full_at_min: null, capacity: 0 }] = infeed;
        if (at === null || m % 5 !== 0) continue;
        const cells = row.filter({ has: page.getByRole("button", { name: id, exact: true }) }).locator("td");
        await goTo(page, Math.round(at / tickMin));
        expect(await cells.nth(1).textContent()).toContain(`${capacity} of ${capacity}`);
        await goTo(page, Math.round(at / tickMin) - 1);
        expect((await cells.nth(1).textContent())?.split(",")[0]).not.toBe(`${capacity} of ${capacity}`);
      }
      expect(complaints).toEqual([]);
      await page.context().close();
    },
  );

  test("what is tried is answered as the command line answers it, and a link holds it", async () => {
    const { file } = await runPageOf(await textOf("short-chain"), "short-chain");
    const { page, complaints } = await openPage(browser, file);
    await page.locator('input[type=number][data-path="machines.cartoner.count"]').fill("5");
    await page.locator('input[type=range][data-path="feeds.blender.rate"]').fill("120");
    await ready(page);
    const text = await page.locator("#text").inputValue();
    expect(text).toContain("count: 5\n");
    expect(text).toMatch(/rate: 120\/min/);
    const { result } = await runPageOf(text, "short-chain");
    const download = page.waitForEvent("download");
    await page.getByRole("button", { name: "Save its result as JSON" }).click();
    const saved = await readFile(await (await download).path(), "utf8");
    expect(saved).toBe(`${JSON.stringify({ format: "fillfront-run", format_version: 1, ...result }, null, 2)}\n`);
    expect(await page.locator("#answer .was").count()).toBeGreaterThan(2);

    const link = page.url();
    expect(link).toContain("#try=");
    const again = await (await browser.newContext()).newPage();
    await again.goto(link);
    await ready(again);
    expect(await again.locator("#text").inputValue()).toBe(text);

    await page.locator("#text").fill(text.replace("infeed:", "infede:"));
    await page.waitForSelector("body.refused:not(.stale)");
    expect(await page.locator("#messages").textContent()).toMatch(/short-chain\.yaml:\d+:\d+: .*infede.*infeed/);
    await page.getByRole("button", { name: "Back to what was reported" }).click();
    await ready(page);
    expect(await page.locator("#answer .was").count()).toBe(0);
    await page.locator("#tactic").selectOption("tail-starts-first");
    await page.locator("#dose").fill("12");
    await ready(page);
    expect(await page.locator("#answer .was").count()).toBeGreaterThan(0);
    expect(complaints).toEqual([]);
  });

  test("time goes by slider, keys and play; a machine is marked everywhere", async () => {
    const { file } = await runPageOf(await textOf("short-chain"), "short-chain");
    const { page, complaints } = await openPage(browser, file);
    const made = async () => Number(await page.locator(".numbers").getAttribute("data-made"));
    await page.locator("#chart-output svg").focus();
    for (let i = 0; i < 12; i++) await page.keyboard.press("ArrowRight");
    await expect.poll(made).toBeGreaterThan(10);
    const before = await made();
    await page.getByRole("button", { name: "Play" }).click();
    await expect.poll(made).toBeGreaterThan(before);
    await page.getByRole("button", { name: "Pause" }).click();
    await page.locator('#chart-buffers [data-machine="cartoner-3"]').click();
    expect(await page.locator("#marked").textContent()).toContain("cartoner-3");
    expect(await page.locator(".row.marked").count()).toBe(3);
    expect(await page.locator("#chart-states .reading").textContent()).toContain("cartoner-3:");
    expect(complaints).toEqual([]);
  });

  test("names and titles show as text, whatever they hold", async () => {
    const text = (await textOf("short-chain")).replace(/^title:.*$/m, `title: '${HOSTILE.replaceAll("'", "''")}'`);
    const { file } = await runPageOf(text, "short-chain");
    const { page, complaints } = await openPage(browser, file);
    expect(await page.locator("h1").textContent()).toBe(HOSTILE);
    expect(await page.title()).toBe(HOSTILE.trim());
    await page.locator("#text").fill(`title: "\u202Egnp.exe<b>bold</b>"\n<b>: 1`);
    await page.waitForSelector("body.refused:not(.stale)");
    expect(await page.locator("#messages b, h1 b, img, main script").count()).toBe(0);
    expect(await page.locator("#messages").textContent()).not.toMatch(/[\u202A-\u202E\u2066-\u2069]/);
    expect(complaints).toEqual([]);
  });

  test("every start of a comparison plays beside doing nothing", async () => {
    const { page, complaints } = await openPage(
      browser,
      await comparisonPageOf(await textOf("short-chain"), "short-chain"),
    );
    expect(await page.locator("[data-film]").count()).toBe(2);
    await page.locator('input[name=start][value="stocked"]').check();
    await ready(page);
    await expect.poll(() => page.locator("[data-film] h3").allTextContents()).toEqual(["Nothing done", "stocked"]);
    await goTo(page, 600);
    const held = page.locator("[data-film] .numbers");
    await expect
      .poll(async () => Number(await held.nth(1).getAttribute("data-held")))
      .toBeGreaterThan(Number(await held.nth(0).getAttribute("data-held")));
    expect(complaints).toEqual([]);
  });

  test("every level of a feed and every layout plays beside the file as it is", async () => {
    const name = "four-equal";
    for (const { file, variant, before } of [
      {
        file: await shortagePageOf(await textOf(name), name),
        variant: "50\u00a0% of the feed",
        before: "The whole feed",
      },
      { file: await layoutsPageOf(await textOf(name), name), variant: "tree", before: "As the file has it" },
    ]) {
      const { page, complaints } = await openPage(browser, file);
      expect(await page.getByRole("radio").evaluateAll((all) => all.length)).toBeGreaterThan(1);
      expect(await page.getByRole("radio", { name: "today" }).count()).toBe(0);
      await page.getByRole("radio", { name: variant, exact: true }).check();
      await ready(page);
      await expect.poll(() => page.locator("[data-film] h3").allTextContents()).toEqual([before, variant]);
      await goTo(page, Number(await page.locator("#time").getAttribute("max")));
      const made = async (slot: number) =>
        Number(await page.locator("[data-film] .numbers").nth(slot).getAttribute("data-made"));
      // Half of the feed makes half; a tree loses less.
      if (variant === "tree") await expect.poll(() => made(1)).toBeGreaterThan(await made(0));
      else await expect.poll(async () => (await made(1)) / (await made(0))).toBeCloseTo(0.5, 1);
      expect(await page.evaluate("document.documentElement.scrollWidth")).toBe(1280);
      expect(complaints).toEqual([]);
      await page.context().close();
    }
  });

  test.each([
    { width: 1280, colorScheme: "light" },
    { width: 320, colorScheme: "dark" },
  ] as const)("for everyone: $width px, $colorScheme", async ({ width, colorScheme }) => {
    const { file } = await longChain();
    const { page, complaints } = await openPage(browser, file, { viewport: { width, height: 800 }, colorScheme });
    expect(await page.evaluate("document.documentElement.scrollWidth")).toBe(width);
    for (const summary of await page.locator("summary").all()) await summary.click();
    await page.evaluate(await readFile(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8"));
    const found =
      await page.evaluate(`axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] })
      .then(({ violations }) => violations.map(({ id, nodes }) => id + ": " + nodes.map(({ html }) => html.slice(0, 120)).join(" | ")))`);
    expect(found).toEqual([]);
    expect(complaints).toEqual([]);
  });

  test("what is printed is one sheet, of A4 and of Letter", async () => {
    for (const file of [
      (await longChain()).file,
      await comparisonPageOf(await textOf("long-chain"), "long-chain", 14),
    ]) {
      const { page } = await openPage(browser, file);
      for (const format of ["A4", "Letter"]) {
        const pdf = (await page.pdf({ format, printBackground: true })).toString("latin1");
        expect(pdf.match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
      }
    }
  });
});

let made: ReturnType<typeof runPageOf> | null = null;

async function longChain(): ReturnType<typeof runPageOf> {
  made ??= runPageOf(await textOf("long-chain"), "long-chain");
  return made;
}
