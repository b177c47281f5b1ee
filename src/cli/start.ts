#!/usr/bin/env node
/**
 * Starts the command line with code that need not be compiled again: beside each file of the bundle the build keeps what V8
 * made of it (keep-code.mjs). That serves one version of Node on one kind of machine; any other compiles as usual.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { constants, Script } from "node:vm";

interface Loaded {
  exports: unknown;
}

type Body = (this: unknown, exports: unknown, require: unknown, module: Loaded, file: string, folder: string) => void;

const ENDING = `${process.version}-${process.platform}-${process.arch}.code`;

const here = fileURLToPath(import.meta.url);
const folder = dirname(here);
const ofNode = createRequire(here);
const scripts = new Map<string, Script>();
const loaded = new Map<string, Loaded>();

/** As Node loads a CommonJS module. */
function load(name: string): unknown {
  if (!name.startsWith("./")) return ofNode(name);
  const known = loaded.get(name);
  if (known) return known.exports;
  const module: Loaded = { exports: {} };
  loaded.set(name, module);
  const file = join(folder, name);
  const kept = keptCode(file);
  const text = `(function (exports, require, module, __filename, __dirname) { ${readFileSync(file, "utf8")}\n})`;
  const script = new Script(text, {
    filename: file,
    importModuleDynamically: constants.USE_MAIN_CONTEXT_DEFAULT_LOADER,
    ...(kept === null ? {} : { cachedData: kept }),
  });
  scripts.set(file, script);
  const body: Body = script.runInThisContext();
  body.call(module.exports, module.exports, load, module, file, folder);
  return module.exports;
}

function keptCode(file: string): Buffer | null {
  try {
    return readFileSync(`${file}.${ENDING}`);
  } catch {
    return null;
  }
}

/** With all that a command has compiled by its end. */
function keepCode(): void {
  for (const [file, script] of scripts) writeFileSync(`${file}.${ENDING}`, script.createCachedData());
}

/** That importing from such code is new to Node is no news to a user. */
function withoutExperiments(): void {
  const tellers = process.listeners("warning");
  process.removeAllListeners("warning");
  process.on("warning", (warning) => {
    if (warning.name !== "ExperimentalWarning") for (const tell of tellers) tell(warning);
  });
}

withoutExperiments();
if (process.env.FILLFRONT_KEEP_CODE) process.on("exit", keepCode);
load("./commands.js");
