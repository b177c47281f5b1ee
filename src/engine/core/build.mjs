/** Compiles the core to WebAssembly and writes it down as a module, ../core-binary.ts, unless that is up to date already. */
import { readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

const HERE = fileURLToPath(new URL(".", import.meta.url));
const TARGET = fileURLToPath(new URL("../core-binary.ts", import.meta.url));
const SOURCES = [
  ...readdirSync(HERE).map((name) => new URL(name, import.meta.url)),
  new URL("../states.ts", import.meta.url),
  new URL("../../network/kinds.ts", import.meta.url),
];

function isUpToDate() {
  const written = statSync(TARGET, { throwIfNoEntry: false })?.mtimeMs ?? 0;
  return SOURCES.every((source) => statSync(source).mtimeMs <= written);
}

/** @returns {Promise<Uint8Array>} */
async function compile() {
  // Loaded only now: they take a second.
  const { default: asc } = await import("assemblyscript/asc");
  const { default: binaryen } = await import("binaryen");
  const written = new Map();
  const { error, stderr } = await asc.main(
    [
      "index.ts",
      ...["--outFile", "core.wasm"],
      ...["--runtime", "stub", "--bindings", "none", "--importMemory", "--noAssert"],
      ...["--optimizeLevel", "3", "--shrinkLevel", "0", "--converge"],
    ],
    {
      readFile: (name, base) => {
        try {
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
  return withCallsInlined(binaryen, written.get("core.wasm"));
}

/** A turn goes through half a dozen functions, which engines call as they stand: put into one another, they take a tenth less time. */
function withCallsInlined(binaryen, binary) {
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
  const base64 = Buffer.from(await compile()).toString("base64");
  writeFileSync(TARGET, `/** Made from core/ by core/build.mjs. */\nexport const CORE_BASE64 =\n  "${base64}";\n`);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await setup();
