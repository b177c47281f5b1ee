/** `npm run published`: bundles main.ts beside the built library, which it calls, and runs it. */
import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { join, relative, sep } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { rolldown } from "rolldown";

const HERE = fileURLToPath(new URL(".", import.meta.url));
const ROOT = fileURLToPath(new URL("../../", import.meta.url));

/** What is imported from src, taken from dist; but for what the library does not use itself, such as some statistics. */
const builtLibrary = {
  name: "built-library",
  /** @param {string} source @param {string | undefined} importer */
  resolveId(source, importer) {
    if (!source.startsWith(".") || importer === undefined) return null;
    const path = relative(ROOT, fileURLToPath(new URL(source, pathToFileURL(importer)))).split(sep);
    if (path[0] !== "src") return null;
    const built = join(ROOT, "dist", ...path.slice(1)).replace(/\.ts$/, ".js");
    return existsSync(built) ? { id: built, external: "absolute" } : null;
  },
};

// Within the project, so that packages are found from it.
const folder = mkdtempSync(join(ROOT, "dist", ".published-"));
try {
  const bundle = await rolldown({
    input: join(HERE, "main.ts"),
    platform: "node",
    external: /^[^./]/,
    plugins: [builtLibrary],
  });
  const { output } = await bundle.write({ dir: folder, format: "esm" });
  await import(pathToFileURL(join(folder, output[0].fileName)).href);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
