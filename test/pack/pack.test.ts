/** The packed file as a stranger meets it: in an empty folder, with nothing but the npm registry. */
import { spawnSync } from "node:child_process";
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  realpathSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join, relative, sep } from "node:path";
import { publint } from "publint";
import { afterAll, beforeAll, describe, expect, test } from "vitest";

const PNG_SIGNATURE = "89504e470d0a1a0a";
const LIBRARY = ["analyse", "prepare", "readScenario", "reportFiles", "simulate", "solveFlow", "writeReport"];

const folder = mkdtempSync(join(tmpdir(), "fillfront-pack-"));
const installed = join(folder, "node_modules", "fillfront");

/** What npm sets for scripts would point the inner npm at this checkout; its settings for the registry stay. */
function strangersEnvironment(): NodeJS.ProcessEnv {
  const ours = /^(npm_(package|lifecycle)_|npm_config_local_prefix|npm_config_prefix|INIT_CWD|NODE_ENV|VITEST)/i;
  return Object.fromEntries(Object.entries(process.env).filter(([name]) => !ours.test(name)));
}

/** Standard output; throws with everything that was printed if the command fails. */
function run(command: string, args: readonly string[], cwd: string, settings: NodeJS.ProcessEnv = {}): string {
  const { status, stdout, stderr, error } = spawnSync(command, args, {
    cwd,
    env: { ...strangersEnvironment(), ...settings },
    encoding: "utf8",
  });
  if (error !== undefined) throw error;
  if (status !== 0) throw new Error(`${command} ${args.join(" ")}: exit status ${status}\n${stdout}${stderr}`);
  return stdout;
}

/** Paths below `top`, with forward slashes. */
function filesBelow(top: string): string[] {
  return readdirSync(top, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(top, join(entry.parentPath, entry.name)).split(sep).join("/"));
}

function tarball(): string {
  const [file, ...others] = readdirSync(folder).filter((name) => name.endsWith(".tgz"));
  if (file === undefined || others.length > 0) throw new Error("npm pack wrote no file, or several");
  return file;
}

beforeAll(() => {
  run("npm", ["pack", "--pack-destination", folder], process.cwd());
  // Without a package.json of its own, npm would install into the nearest folder above that has one.
  writeFileSync(join(folder, "package.json"), '{ "private": true, "type": "module" }\n');
  run("npm", ["install", `./${tarball()}`], folder);
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("the tarball", () => {
  test("holds the build, the examples and the licence, no package of others and nothing else, under 1.5 MB", () => {
    const files = filesBelow(installed);
    const known =
      /^(dist\/.+\.(js|d\.ts)|dist\/page-parts\.cjs|dist\/cli\/(?:licences\.txt|package\.json|.+\.code)|scenarios\/.+\.(yaml|csv|schema\.json)|scenarios\/README\.md|reports\/README\.md|reports\/long-chain\/buffers\.png|reports\/page\.webp|package\.json|README\.md|DEVELOPERS\.md|LICENSE)$/;
    expect(files.filter((name) => !known.test(name))).toEqual([]);
    expect(files).toEqual(
      expect.arrayContaining([
        "LICENSE",
        "README.md",
        "dist/cli/licences.txt",
        "dist/cli/main.js",
        "dist/cli/best-worker.js",
        "dist/cli/sweep-worker.js",
        "dist/index.d.ts",
        "dist/index.js",
      ]),
    );
    expect(statSync(join(folder, tarball())).size).toBeLessThan(1.5e6);
  });

  test("has all that its README points at", () => {
    const targets = [...readFileSync(join(installed, "README.md"), "utf8").matchAll(/\]\(([^)#\s]+)/g)].map(
      ([, to = ""]) => to,
    );
    expect(targets.length).toBeGreaterThan(3);
    expect(targets.filter((to) => !existsSync(join(installed, to)))).toEqual([]);
  });

  test("has an entry for every importer", async () => {
    const { messages } = await publint({ pkgDir: installed, pack: false, strict: true });
    expect(messages).toEqual([]);
  });
});

describe("installed", () => {
  test("the command line simulates an example and draws its pictures", () => {
    const bin = join("node_modules", ".bin", "fillfront");
    run(bin, ["run", join(installed, "scenarios", "short-chain.yaml"), "--out", "report"], folder);
    const report = filesBelow(join(folder, "report"));
    expect(report).toEqual(expect.arrayContaining(["report.md", "result.json"]));
    const pictures = report.filter((name) => name.endsWith(".png"));
    expect(pictures).not.toEqual([]);
    for (const name of pictures) {
      const bytes = readFileSync(join(folder, "report", name));
      expect(bytes.subarray(0, 8).toString("hex"), name).toBe(PNG_SIGNATURE);
      expect(bytes.length, name).toBeGreaterThan(5000);
    }
  });

  test("the library is imported by an ESM script", () => {
    writeFileSync(
      join(folder, "use.js"),
      'import * as library from "fillfront";\nconsole.log(JSON.stringify(Object.keys(library)));\n',
    );
    expect(JSON.parse(run(process.execPath, ["use.js"], folder))).toEqual(expect.arrayContaining(LIBRARY));
  });

  test("its types hold in a strict project that checks libraries too", () => {
    writeFileSync(
      join(folder, "use.ts"),
      `import { ${LIBRARY.join(", ")} } from "fillfront";\nexport { ${LIBRARY} };\n`,
    );
    const tsc = createRequire(import.meta.url).resolve("typescript/bin/tsc");
    const options = ["--noEmit", "--strict", "--module", "nodenext", "--target", "es2023", "--lib", "es2023", "use.ts"];
    expect(run(process.execPath, [tsc, ...options], folder)).toBe("");
  });
});

/** Each as the registry has it, in a folder of its own. */
const OTHERS = [
  { name: "pnpm", runs: "pnpm@12", add: ["pnpm", "add"], settings: {} },
  { name: "Yarn classic", runs: "yarn@1", add: ["yarn", "add"], settings: {} },
  {
    name: "Yarn 4 with node-modules",
    runs: "@yarnpkg/cli-dist@4",
    add: ["yarn", "add"],
    settings: { ".yarnrc.yml": "nodeLinker: node-modules\nenableGlobalCache: false\n", "yarn.lock": "" },
  },
];

/** Pictures are the same where what draws them is. */
function drawnWith(project: string): string[] {
  const from = createRequire(join(realpathSync(join(project, "node_modules", "fillfront")), "package.json"));
  return ["@napi-rs/canvas", "@fontsource/source-sans-3"].map((name) => {
    const found = from.resolve.paths(name)?.find((path) => existsSync(join(path, name, "package.json"))) ?? "";
    return `${name} ${/"version": *"([\d.]+)"/.exec(readFileSync(join(found, name, "package.json"), "utf8"))?.[1]}`;
  });
}

describe.each(OTHERS)("installed by $name", ({ name, runs, add, settings }) => {
  test("it draws the same pictures as when installed by npm", () => {
    const own = join(folder, name.replaceAll(" ", "-").toLowerCase());
    mkdirSync(own);
    writeFileSync(join(own, "package.json"), '{ "private": true }\n');
    for (const [file, text] of Object.entries(settings)) writeFileSync(join(own, file), text);
    const registry = run("npm", ["config", "get", "registry"], folder).trim();
    const asStranger = {
      YARN_NPM_REGISTRY_SERVER: registry,
      YARN_ENABLE_TELEMETRY: "0",
      // Yarn classic takes an earlier file of the same version for this one.
      YARN_CACHE_FOLDER: join(own, "cache"),
    };
    run("npm", ["exec", "--yes", `--package=${runs}`, "--", ...add, `fillfront@file:../${tarball()}`], own, asStranger);
    const example = join("node_modules", "fillfront", "scenarios", "short-chain.yaml");
    run(join("node_modules", ".bin", "fillfront"), ["run", example, "--out", "report"], own);
    const differing = filesBelow(join(folder, "report")).filter(
      (file) => !readFileSync(join(own, "report", file)).equals(readFileSync(join(folder, "report", file))),
    );
    expect({ differing, drawnWith: drawnWith(own) }).toEqual({ differing: [], drawnWith: drawnWith(folder) });
  }, 180_000);
});
