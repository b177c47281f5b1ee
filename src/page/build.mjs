/**
 * Bundles the page's script and its engine, and writes them with its style as a module, dist/page-parts.cjs, unless that is up to
 * date. The engine is packed, since it goes into every report.
 */
import { createHash } from "node:crypto";
import { readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";

const ROOT = fileURLToPath(new URL("../../", import.meta.url));
const TARGET = join(ROOT, "dist/page-parts.cjs");

function isUpToDate() {
  const written = statSync(TARGET, { throwIfNoEntry: false })?.mtimeMs ?? 0;
  const sources = readdirSync(join(ROOT, "src"), { recursive: true, withFileTypes: true });
  return sources.every((one) => !one.isFile() || statSync(join(one.parentPath, one.name)).mtimeMs <= written);
}

/**
 * @type {import("rolldown").Plugin} What the page has no use for stays out, 20 kB: it changes a file's text in place, and so writes no
 * whole documents, and reads YAML 1.2 by its core schema alone.
 */
const withoutUnused = {
  name: "without-unused",
  load: {
    filter: {
      id: /yaml[\\/]browser[\\/]dist[\\/](?:stringify[\\/]|schema[\\/](?:yaml-1\.1[\\/](?:schema|int|float|bool)|json[\\/]schema)\.js|parse[\\/]cst-visit\.js)/,
    },
    handler(id) {
      const names = [
        ...readFileSync(id, "utf8").matchAll(/^export (?:\{([^}]*)\}|(?:function|const|class) (\w+))/gm),
      ].flatMap(([, list, one]) => (list ?? one).split(",").map((name) => name.trim()));
      const refused = "const refused = () => { throw new Error('not for the page'); };";
      return `${refused}\nexport { ${names.map((name) => `refused as ${name}`).join(", ")} };`;
    },
  },
};

/** @type {import("rolldown").Plugin} Nor does it say of these what the schema says; of knobs it does (scenario/knobs.ts). */
const withoutDescriptions = {
  name: "without-descriptions",
  transform: {
    filter: {
      id: /src[\\/]scenario[\\/](?:tactic-parts|means|random-shapes|distribution-form|custom-line|lanes-line)\.ts$/,
    },
    handler: (code) => code.replaceAll(/\bdescription:\s*"[^"\\]*"/g, 'description: ""'),
  },
};

/** @returns {Promise<string>} one script, with nothing in it that would end the element it stands in */
async function bundled(input) {
  const { rolldown } = await import("rolldown");
  const plugins = [withoutUnused, withoutDescriptions];
  const bundle = await rolldown({ cwd: ROOT, input, platform: "browser", tsconfig: false, plugins });
  const { output } = await bundle.generate({ format: "iife", minify: true, comments: false });
  if (output.length !== 1) throw new Error(`${input} is not one script`);
  return output[0].code.replaceAll("</script", "<\\/script").replaceAll("<!--", "<\\!--");
}

/** For the test runner, too. */
export async function setup() {
  if (isUpToDate()) return;
  const [script, engine] = await Promise.all([bundled("src/page/main.ts"), bundled("src/page/worker.ts")]);
  const style = readFileSync(join(ROOT, "src/page/page.css"), "utf8").replaceAll(/\s*\n\s*/g, "\n");
  const hash = (text) => `sha256-${createHash("sha256").update(text).digest("base64")}`;
  const parts = {
    script,
    style,
    engine: gzipSync(engine, { level: 9 }).toString("base64"),
    scriptHash: hash(script),
    styleHash: hash(style),
  };
  writeFileSync(TARGET, `module.exports = ${JSON.stringify(parts)};\n`);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await setup();
