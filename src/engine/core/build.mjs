/**
 * Makes sources from the tables (from-tables.mjs), compiles the core to WebAssembly and writes it down as a module,
 * ../core-binary.ts, unless all that is up to date already.
 */
import { readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { readTables, sourcesFrom } from "./from-tables.mjs";

const here = (name) => new URL(name, import.meta.url);
const BINARY = here("../core-binary.ts");
const MADE = [...["at.ts", "memory.ts", "records.ts", "../record-offsets.ts"].map(here), BINARY];
const BESIDE = ["../core-arrays.ts", "../core-records.ts", "../states.ts", "../../network/kinds.ts"];
const SOURCES = [...readdirSync(here(".")), ...BESIDE]
  .map(here)
  .filter(({ href }) => MADE.every((made) => made.href !== href));

function isUpToDate() {
  const written = Math.min(...MADE.map((made) => statSync(made, { throwIfNoEntry: false })?.mtimeMs ?? 0));
  return SOURCES.every((source) => statSync(source).mtimeMs <= written);
}

/**
 * @param {Readonly<Record<string, string>>} made sources by name, in place of files
 * @param {readonly string[]} options of the compiler's
 * @returns {Promise<Uint8Array>}
 */
export async function compile(made, options) {
  // Loaded only now: it takes a second.
  const { default: asc } = await import("assemblyscript/asc");
  const written = new Map();
  const { error, stderr } = await asc.main(
    [
      "index.ts",
      ...["--outFile", "core.wasm"],
      ...["--runtime", "stub", "--bindings", "none", "--importMemory"],
      ...options,
    ],
    {
      readFile: (name, base) => {
        try {
          if (name in made) return made[name];
          return readFileSync(new URL(name, new URL(`${base}/`, import.meta.url)), "utf8");
        } catch {
          return null;
        }
      },
      writeFile: (name, data) => written.set(name, data),
      listFiles: () => null,
    },
  );
  if (error) throw new Error(`the core does not compile:\n${stderr}`);
  return written.get("core.wasm");
}

/** A turn goes through half a dozen functions, which engines call as they stand: put into one another, they take a tenth less time. */
async function withCallsInlined(binary) {
  const { default: binaryen } = await import("binaryen");
  const module = binaryen.readBinary(binary);
  module.setFeatures(binaryen.Features.BulkMemory | binaryen.Features.BulkMemoryOpt | binaryen.Features.MutableGlobals);
  binaryen.setOptimizeLevel(4);
  binaryen.setShrinkLevel(0);
  binaryen.setAlwaysInlineMaxSize(100);
  binaryen.setFlexibleInlineMaxSize(400);
  binaryen.setOneCallerInlineMaxSize(2000);
  binaryen.setAllowInliningFunctionsWithLoops(true);
  module.runPasses(["inlining-optimizing"]);
  module.optimize();
  module.optimize();
  return module.emitBinary();
}

/** For the test runner, too. */
export async function setup() {
  if (isUpToDate()) return;
  const made = sourcesFrom(await readTables());
  for (const [name, text] of Object.entries(made)) writeFileSync(here(name), text);
  const fast = ["--noAssert", "--optimizeLevel", "3", "--shrinkLevel", "0", "--converge"];
  const base64 = Buffer.from(await withCallsInlined(await compile(made, fast))).toString("base64");
  writeFileSync(BINARY, `/** Made from core/ by core/build.mjs. */\nexport const CORE_BASE64 =\n  "${base64}";\n`);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await setup();
