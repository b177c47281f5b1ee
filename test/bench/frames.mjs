/**
 * What a frame of the page costs at 40 machines while it plays: scripting, style, layout and painting on the page's own thread,
 * in Chromium's own counts of processor time. Needs a build and a Chromium.
 */
import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { launched, opened, ROOT, report } from "./page.mjs";

const SECONDS = 6;
const TARGET_MS = 8;

const folder = mkdtempSync(join(tmpdir(), "fillfront-frames-"));
const file = join(folder, "forty.yaml");
const text = readFileSync(join(ROOT, "scenarios/long-chain.yaml"), "utf8");
writeFileSync(file, text.replace("count: 24", "count: 40").replace("speed: 52 m/min", "speed: 90 m/min"));
const out = join(folder, "report");
report(file, out);

const browser = await launched();
try {
  const page = await opened(browser, out);
  const session = await page.context().newCDPSession(page);
  await session.send("Performance.enable", { timeDomain: "threadTicks" });
  const metrics = async () => {
    const found = (await session.send("Performance.getMetrics")).metrics;
    return Object.fromEntries(found.map(({ name, value }) => [name, value]));
  };
  await page.evaluate(
    `globalThis.frames_ = 0; (function count() { globalThis.frames_++; requestAnimationFrame(count); })()`,
  );
  await page.locator("#play").click();
  await page.waitForTimeout(1000);
  const [before, first] = [await metrics(), await page.evaluate("frames_")];
  await page.waitForTimeout(SECONDS * 1000);
  const [after, last] = [await metrics(), await page.evaluate("frames_")];
  const frames = last - first;
  const perFrame = (name) => ((after[name] - before[name]) * 1000) / frames;
  const all = perFrame("TaskDuration");
  console.log(`${frames} frames in ${SECONDS} s at 40 machines`);
  for (const name of ["ScriptDuration", "RecalcStyleDuration", "LayoutDuration", "TaskDuration"]) {
    console.log(`  ${name.padEnd(20)} ${perFrame(name).toFixed(2)} ms a frame`);
  }
  console.log(`  at most ${TARGET_MS} ms: ${all <= TARGET_MS ? "holds" : "does not hold"}`);
} finally {
  await browser.close();
}
