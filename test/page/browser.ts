/** Debian's Chromium, driven by playwright-core: pages opened from disk, as people open them. */
import { execFileSync } from "node:child_process";
import { existsSync } from "node:fs";
import { pathToFileURL } from "node:url";
import { type Browser, type BrowserContextOptions, chromium, type Page } from "playwright-core";

const KNOWN = [process.env.FILLFRONT_CHROMIUM ?? "", "/usr/bin/chromium", "/usr/bin/chromium-browser"];

/** `null` where there is none. */
export const CHROMIUM = KNOWN.find((path) => path !== "" && existsSync(path)) ?? null;

/** In CI one that is missing is a failure, unless CI has told that it could not install it. */
export const MAY_SKIP = process.env.CI === undefined || process.env.FILLFRONT_NO_BROWSER === "1";

export function tellMissing(): void {
  process.stderr.write("No Chromium here: tests of the page are skipped. On Debian: apt-get install chromium\n");
}

export function launch(): Promise<Browser> {
  return chromium.launch({ executablePath: CHROMIUM ?? "", args: isRoot() ? ["--no-sandbox"] : [] });
}

function isRoot(): boolean {
  return execFileSync("id", ["-u"], { encoding: "utf8" }).trim() === "0";
}

export interface Opened {
  readonly page: Page;
  /** What the console says and which addresses are asked for; nothing of either is expected. */
  readonly complaints: string[];
}

export async function openPage(browser: Browser, file: string, options: BrowserContextOptions = {}): Promise<Opened> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, ...options });
  const page = await context.newPage();
  const complaints: string[] = [];
  const own = pathToFileURL(file).href;
  page.on("console", (message) => complaints.push(message.text()));
  page.on("pageerror", (error) => complaints.push(error.message));
  page.on("dialog", (dialog) => {
    complaints.push(dialog.message());
    void dialog.dismiss();
  });
  page.on("request", (request) => {
    const url = request.url();
    if (url !== own && !url.startsWith("blob:")) complaints.push(url.slice(0, 200));
  });
  await page.goto(own);
  await ready(page);
  return { page, complaints };
}

export async function ready(page: Page): Promise<void> {
  await page.waitForSelector("body.ready:not(.stale)");
}

/** Goes to a tick and waits for its frame. */
export async function goTo(page: Page, tick: number): Promise<void> {
  await page.evaluate(`(() => {
    const slider = document.getElementById("time");
    slider.value = "${tick}";
    slider.dispatchEvent(new Event("input"));
  })()`);
  await page.waitForSelector(`.numbers[data-tick="${tick}"]`);
}
