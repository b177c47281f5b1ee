/**
 * `npm run pictures`: all sample pictures side by side on one page, as wide as they are and as narrow as on a phone, to look at
 * after a change. Those given with `--than FOLDER`, such as the reports of an earlier commit, stand beside them.
 */
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join, relative } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { createCanvas, loadImage } from "@napi-rs/canvas";

const ROOT = fileURLToPath(new URL("../../", import.meta.url));
const NOW = join(ROOT, "reports");
const TARGET = join(ROOT, "dist", "pictures.html");
const than = process.argv.includes("--than") ? process.argv[process.argv.indexOf("--than") + 1] : undefined;

const WIDTHS = [1200, 400];
/** A pixel is another one where a channel differs by more; what smoothing of edges may do stays below. */
const TOLERANCE = 32;

function picturesIn(folder) {
  return readdirSync(folder, { recursive: true })
    .filter((name) => name.endsWith(".png"))
    .sort();
}

/** @returns the share of pixels that are others, 1 where the sizes differ */
async function difference(before, after) {
  const [a, b] = await Promise.all([before, after].map((file) => loadImage(readFileSync(file))));
  if (a.width !== b.width || a.height !== b.height) return 1;
  const [first, second] = [a, b].map((image) => {
    const context = createCanvas(image.width, image.height).getContext("2d");
    context.drawImage(image, 0, 0);
    return context.getImageData(0, 0, image.width, image.height).data;
  });
  let others = 0;
  for (let i = 0; i < first.length; i += 4) {
    if ([0, 1, 2].some((channel) => Math.abs(first[i + channel] - second[i + channel]) > TOLERANCE)) others += 1;
  }
  return others / (first.length / 4);
}

const figures = [];
for (const name of picturesIn(NOW)) {
  const now = join(NOW, name);
  const before = than === undefined ? null : join(than, name);
  const known = before !== null && existsSync(before);
  const share = known ? await difference(before, now) : null;
  const told = share === null ? (than === undefined ? "" : ", new") : `, ${(share * 100).toFixed(2)} % others`;
  if (share !== 0 && than !== undefined) console.log(`${name}${told}`);
  const shown = [...(known ? [before] : []), now].flatMap((file) =>
    WIDTHS.map((width) => `<img src="${pathToFileURL(file)}" style="max-width: ${width}px" loading="lazy" alt="">`),
  );
  figures.push(`<figure><figcaption>${name}${told}</figcaption>${shown.join("\n")}</figure>`);
}
mkdirSync(join(ROOT, "dist"), { recursive: true });
writeFileSync(
  TARGET,
  `<!doctype html><meta charset="utf-8"><title>Sample pictures</title>
<style>body { font: 16px sans-serif } figure { margin: 0 0 3em } img { border: 1px solid #ccc; vertical-align: top }</style>
${figures.join("\n")}\n`,
);
console.log(`${figures.length} pictures in ${relative(process.cwd(), TARGET)}`);
