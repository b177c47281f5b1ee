/** The page as it is seen: in one font on all machines, at a moment, at a width, or on paper. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { createCanvas, type Image, loadImage } from "@napi-rs/canvas";
import type { Browser } from "playwright-core";
import { goTo, openPage } from "./browser.ts";

const FONT = createRequire(import.meta.url).resolve(
  "@fontsource/source-sans-3/files/source-sans-3-latin-400-normal.woff2",
);

export interface Look {
  readonly file: string;
  /** Pixels, or a sheet of A4 within its margins. */
  readonly width: number | "A4";
  readonly tick: number;
  /** Down to this heading alone. */
  readonly upTo?: string;
}

/** A chart follows the time once its observer has told that it is in sight, which a busy machine may put off. */
const ALL_CHARTS_AT_THE_SLIDER = `(() => {
  const shown = (one) => Number.parseFloat(one.getAttribute("aria-valuetext"));
  const minute = shown(document.getElementById("time"));
  return [...document.querySelectorAll("svg.picture")].every((chart) => Math.abs(shown(chart) - minute) < 0.1);
})()`;

const A4_WITHIN_MARGINS = { width: 703, height: 1032 };

/** @returns a PNG */
export async function seen(browser: Browser, { file, width, tick, upTo }: Look): Promise<Buffer> {
  const size = width === "A4" ? A4_WITHIN_MARGINS : { width, height: 900 };
  // The page's policy knows no fonts.
  const { page } = await openPage(browser, file, { viewport: size, bypassCSP: true, colorScheme: "light" });
  const font = `data:font/woff2;base64,${readFileSync(FONT).toString("base64")}`;
  await page.addStyleTag({
    content: `@font-face { font-family: seen; src: url(${font}) } * { font-family: seen !important; transition: none !important }`,
  });
  if (width === "A4") await page.emulateMedia({ media: "print" });
  else {
    // Charts that were never in sight have not followed the time.
    await page.setViewportSize({ width, height: await page.evaluate<number>("document.documentElement.scrollHeight") });
    await goTo(page, tick);
    await page.waitForFunction(ALL_CHARTS_AT_THE_SLIDER);
  }
  await page.evaluate(
    "document.fonts.ready.then(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))))",
  );
  const heading = upTo === undefined ? null : await page.getByRole("heading", { name: upTo }).boundingBox();
  const clip = heading === null ? {} : { clip: { x: 0, y: 0, width: size.width, height: heading.y - 24 } };
  const picture = await page.screenshot({ fullPage: width !== "A4", ...clip });
  await page.context().close();
  return picture;
}

/** Small and in few bytes. */
export async function packed(png: Uint8Array, width: number): Promise<Buffer> {
  return canvasOf(await loadImage(Buffer.from(png)), width).encode("webp", 70);
}

function canvasOf(image: Image, width: number) {
  const canvas = createCanvas(width, Math.round((image.height * width) / image.width));
  canvas.getContext("2d").drawImage(image, 0, 0, canvas.width, canvas.height);
  return canvas;
}

/** Of 255; what packing and smoothing of edges may do stays below. */
const TOLERANCE = 64;

/** @returns the share of pixels that are others, 1 where the heights part */
export async function others(one: Uint8Array, other: Uint8Array, width: number): Promise<number> {
  const [a, b] = await Promise.all(
    [one, other].map(async (bytes) => {
      const canvas = canvasOf(await loadImage(Buffer.from(bytes)), width);
      return canvas.getContext("2d").getImageData(0, 0, width, canvas.height);
    }),
  );
  if (a === undefined || b === undefined || Math.abs(a.height - b.height) > 2) return 1;
  const length = Math.min(a.data.length, b.data.length);
  let count = 0;
  for (let i = 0; i < length; i += 4) {
    if ([0, 1, 2].some((c) => Math.abs((a.data[i + c] ?? 0) - (b.data[i + c] ?? 0)) > TOLERANCE)) count += 1;
  }
  return count / (length / 4);
}
