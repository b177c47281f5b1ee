/**
 * How soon a page answers what is tried in it: from a turned knob to the new figures, charts and moments on the screen, by the
 * clock, for every example without chance. Needs a build and a Chromium, and a machine with nothing else to do.
 */
import { mkdtempSync, readdirSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { launched, opened, ROOT, report } from "./page.mjs";

const TARGET_MS = 100;
const TURNS = 7;

const folder = mkdtempSync(join(tmpdir(), "fillfront-what-if-"));
const names = readdirSync(join(ROOT, "scenarios")).filter((name) => name.endsWith(".yaml"));

/** Turns the first knob, there and back; milliseconds until what is shown is no longer stale. */
const TURN = `(async () => {
  const knob = document.querySelector("#knobs input[type=range]");
  if (knob === null) return null;
  const first = knob.value;
  const taken = [];
  for (let turn = 0; turn < ${TURNS}; turn++) {
    knob.value = turn % 2 === 0 ? String(Number(knob.min) + 0.45 * (Number(knob.max) - Number(knob.min))) : first;
    const start = performance.now();
    knob.dispatchEvent(new Event("input", { bubbles: true }));
    await new Promise((done) => {
      const look = () => (document.body.classList.contains("stale") ? requestAnimationFrame(look) : done());
      requestAnimationFrame(look);
    });
    taken.push(performance.now() - start);
    await new Promise((done) => setTimeout(done, 300));
  }
  return taken.toSorted((a, b) => a - b)[Math.floor(taken.length / 2)];
})()`;

const browser = await launched();
try {
  let held = 0;
  let asked = 0;
  for (const name of names) {
    const out = join(folder, name);
    report(join(ROOT, "scenarios", name), out);
    if ("chance" in JSON.parse(readFileSync(join(out, "result.json"), "utf8"))) continue;
    const page = await opened(browser, out);
    const median = await page.evaluate(TURN);
    await page.close();
    if (median === null) continue;
    asked += 1;
    if (median <= TARGET_MS) held += 1;
    console.log(`${name.padEnd(28)} ${median.toFixed(0)} ms`);
  }
  console.log(`${held} of ${asked} examples within ${TARGET_MS} ms, the median of ${TURNS} turns each`);
} finally {
  await browser.close();
}
