/**
 * Bundles chartjs-node-canvas into dist/chart-renderer.cjs, unless that is up to date. Its one reference to `canvas`, whose
 * install downloads or compiles a binary, goes to @napi-rs/canvas, which answers to the same calls.
 */
import { readFileSync, statSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const SOURCE = fileURLToPath(import.meta.url);
const TARGET = fileURLToPath(new URL("../../../dist/chart-renderer.cjs", import.meta.url));
const PACKAGE = join(createRequire(SOURCE).resolve("chartjs-node-canvas"), "../..");
const USED_CHARTS = fileURLToPath(new URL("./used-charts.mjs", import.meta.url));
/** What of its text is another here. */
const CHANGES = /** @type {const} */ ([
  ["(0, freshRequire_1.freshRequire)('canvas')", "require('@napi-rs/canvas/node-canvas')"],
  ["require('chart.js/auto')", `require(${JSON.stringify(USED_CHARTS)}).Chart`],
  // Else it forgets chart.js as soon as it is loaded, for a next renderer to load it anew.
  ["Object.keys(require.cache)", "[]"],
]);
/** Without what animates. */
export const RENDERER = join(PACKAGE, "dist/chartJSNodeCanvas.js");

/** Not by its time: npm gives all files of a package one of long ago. */
function version() {
  return JSON.parse(readFileSync(join(PACKAGE, "package.json"), "utf8")).version;
}

/** Its licence asks to go where its code goes. */
function banner() {
  return `/*! chartjs-node-canvas ${version()}\n\n${readFileSync(join(PACKAGE, "LICENSE"), "utf8").trim()}\n*/`;
}

function isUpToDate() {
  const written = statSync(TARGET, { throwIfNoEntry: false })?.mtimeMs ?? 0;
  return written >= statSync(SOURCE).mtimeMs && readFileSync(TARGET, "utf8").startsWith(banner());
}

/** @type {import("rolldown").Plugin} For those who bundle it. */
export const withOurCanvas = {
  name: "with-our-canvas",
  transform: {
    filter: { id: /chartJSNodeCanvasBase\.js$/ },
    handler(code) {
      return CHANGES.reduce((text, [from, to]) => {
        if (text.split(from).length !== 2) throw new Error(`chartjs-node-canvas has no ${from} any more`);
        return text.replace(from, to);
      }, code);
    },
  },
};

/** For the test runner, too. */
export async function setup() {
  if (isUpToDate()) return;
  const { build } = await import("rolldown");
  await build({
    input: RENDERER,
    platform: "node",
    external: [/^@napi-rs\//, /^chart\.js/],
    plugins: [withOurCanvas],
    logLevel: "warn",
    output: {
      file: TARGET,
      format: "cjs",
      banner: banner(),
      comments: { legal: true, annotation: false, jsdoc: false },
    },
  });
}

if (process.argv[1] === SOURCE) await setup();
