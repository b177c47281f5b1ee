/** The sample pictures are what the program draws, beyond a tolerance for fonts and edges: `npm run pictures` shows them all. */
import { readFileSync } from "node:fs";
import { createCanvas, loadImage } from "@napi-rs/canvas";
import { expect, test } from "vitest";
import { analyse, prepare, readScenario, reportFiles, simulate, solveFlow } from "../../src/index.ts";

/** As on a phone, where an edge is less than a pixel. */
const WIDTH = 400;
/** Of 255; a pixel differs where a channel does by more. */
const TOLERANCE = 48;
const MOST_OTHERS = 0.005;

async function pixels(png: Uint8Array) {
  const image = await loadImage(Buffer.from(png));
  const height = Math.round((image.height * WIDTH) / image.width);
  const context = createCanvas(WIDTH, height).getContext("2d");
  context.drawImage(image, 0, 0, WIDTH, height);
  return context.getImageData(0, 0, WIDTH, height);
}

/** @returns the share of pixels that are others, 1 where the sizes differ */
async function others(one: Uint8Array, other: Uint8Array): Promise<number> {
  const [a, b] = [await pixels(one), await pixels(other)];
  if (a.height !== b.height) return 1;
  let count = 0;
  for (let i = 0; i < a.data.length; i += 4) {
    const isOther = [0, 1, 2].some((c) => Math.abs((a.data[i + c] ?? 0) - (b.data[i + c] ?? 0)) > TOLERANCE);
    if (isOther) count += 1;
  }
  return count / (a.data.length / 4);
}

test("of the short and of the jamming chain", async () => {
  const pictures: [string, Uint8Array][] = [];
  for (const name of ["short-chain", "jamming-mix"]) {
    const read = readScenario(readFileSync(`scenarios/${name}.yaml`, "utf8"));
    const ready = read.ok ? prepare(read.scenario, read.locate) : null;
    if (!read.ok || ready?.ok !== true) throw new Error(`${name} is refused`);
    const { scenario } = read;
    const run = simulate(ready.program, { horizonTicks: ready.horizonTicks, seed: scenario.seed });
    const { result, series } = analyse(run, scenario, solveFlow(ready.network), []);
    for (const [file, content] of await reportFiles(result, series, { charts: true })) {
      if (typeof content !== "string" && file.endsWith(".png")) pictures.push([`${name}/${file}`, content]);
    }
  }
  expect(pictures.length).toBeGreaterThanOrEqual(8);
  for (const [file, content] of pictures) {
    expect(await others(content, readFileSync(`reports/${file}`)), file).toBeLessThan(MOST_OTHERS);
  }
  const [[, one] = ["", new Uint8Array()], [, two] = ["", new Uint8Array()]] = pictures;
  expect(await others(one, two)).toBeGreaterThan(MOST_OTHERS);
});
