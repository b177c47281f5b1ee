/**
 * Bundles the command line into dist/cli: what every command needs, and a file for each part that is loaded only when asked
 * for. Packed, but functions keep their names, so that a stack says where it comes from. The library is the same code by another
 * entry, so that it is there once; only what runs in browsers, too, is a module of its own, as bundlers like it.
 */
import { chmodSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "rolldown";
import { RENDERER, withOurCanvas } from "../report/chart-renderer/build.mjs";

const ROOT = fileURLToPath(new URL("../../", import.meta.url));

/** @type {import("rolldown").Plugin} Commander asks for it to start commands that are programs of their own, of which there are none; loading takes 10 ms. */
const noChildProcesses = {
  name: "no-child-processes",
  transform: {
    filter: { id: /commander[\\/]lib[\\/]command\.js$/ },
    handler(code) {
      const without = code.replace("require('node:child_process')", "{}");
      if (without === code) throw new Error("commander loads no child processes any more: this plugin can go");
      return without;
    },
  },
};

/** @type {import("rolldown").Plugin} The licences of the bundled packages, which ask to go where their code goes. */
const licences = {
  name: "licences",
  generateBundle(_options, bundle) {
    const modules = Object.values(bundle).flatMap((file) => (file.type === "chunk" ? file.moduleIds : []));
    const folders = modules.flatMap((id) => /^.*node_modules[\\/](?:@[^\\/]+[\\/])?[^\\/]+/.exec(id)?.[0] ?? []);
    const texts = [...new Set(folders)].sort().map((folder) => {
      const files = readdirSync(folder);
      // seedrandom's stands at the end of its readme.
      const file = files.find((name) => /^licen[cs]e/i.test(name)) ?? files.find((name) => /^readme/i.test(name));
      if (file === undefined) throw new Error(`${folder} is bundled and has no licence`);
      return `${basename(folder)}\n\n${readFileSync(join(folder, file), "utf8").trim()}\n`;
    });
    this.emitFile({ type: "asset", fileName: "licences.txt", source: texts.join("\n\n") });
  },
};

/** @type {import("rolldown").Plugin} The package's other files are ES modules. */
const kindOfModules = {
  name: "kind-of-modules",
  generateBundle() {
    this.emitFile({ type: "asset", fileName: "package.json", source: '{ "type": "commonjs" }\n' });
  },
};

/** @type {import("rolldown").OutputOptions} */
const OUTPUT = {
  dir: "dist/cli",
  format: "cjs",
  // Of the whole package, not of these files, which are another by their package.json.
  paths: { "#page-parts": "../page-parts.cjs" },
  minify: {
    compress: false,
    mangle: { keepNames: { function: true, class: true } },
    codegen: { removeWhitespace: true },
  },
  chunkFileNames: "[name].js",
  comments: { legal: true, annotation: false, jsdoc: false },
};

await build({
  cwd: ROOT,
  input: {
    commands: "src/cli/main.ts",
    "best-worker": "src/cli/best-worker.ts",
    library: "src/index.ts",
    "luck-worker": "src/cli/luck-worker.ts",
    "replication-worker": "src/cli/replication-worker.ts",
    "study-worker": "src/cli/study-worker.ts",
    "sweep-worker": "src/cli/sweep-worker.ts",
  },
  platform: "node",
  // Binaries, fonts and what is loaded for pictures, threads and fits only.
  external: [/^@napi-rs\/canvas/, "#page-parts", /^elkjs/, "ml-matrix", "tinypool"],
  // Its other form, for Node, is CommonJS: each module a function that is compiled at the start.
  resolve: { alias: { yaml: join(ROOT, "node_modules/yaml/browser/index.js"), "#chart-renderer": RENDERER } },
  plugins: [withOurCanvas, noChildProcesses, licences, kindOfModules],
  output: { ...OUTPUT, cleanDir: true },
});

// By itself, since it loads what the others share with their kept code.
await build({ cwd: ROOT, input: { main: "src/cli/start.ts" }, platform: "node", output: OUTPUT });
chmodSync(join(ROOT, "dist/cli/main.js"), 0o755);

writeFileSync(join(ROOT, "dist/index.js"), 'export * from "./cli/library.js";\n');

await build({
  cwd: ROOT,
  input: { core: "src/core.ts" },
  platform: "neutral",
  external: /^[^./]/,
  output: {
    dir: "dist",
    format: "esm",
    minify: { compress: false, mangle: false, codegen: { removeWhitespace: true } },
    comments: { legal: true, annotation: true, jsdoc: false },
  },
});
