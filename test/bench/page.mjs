/** A report's page as Chromium shows it. Needs a build and a Chromium. */
import { execFileSync } from "node:child_process";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

export const ROOT = fileURLToPath(new URL("../../", import.meta.url));

/** @param {string} scenario its file @param {string} folder for the report, without pictures */
export function report(scenario, folder) {
  const args = ["run", scenario, "--no-charts", "--out", folder];
  execFileSync(process.execPath, [join(ROOT, "dist/cli/main.js"), ...args], { stdio: "ignore" });
}

export function launched() {
  const executablePath = process.env.FILLFRONT_CHROMIUM ?? "/usr/bin/chromium";
  return chromium.launch({ executablePath, args: process.getuid?.() === 0 ? ["--no-sandbox"] : [] });
}

/** @param {import("playwright-core").Browser} browser @param {string} folder of a report */
export async function opened(browser, folder) {
  const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
  await page.goto(pathToFileURL(join(folder, "report.html")).href);
  await page.waitForSelector("body.ready:not(.stale)");
  return page;
}
