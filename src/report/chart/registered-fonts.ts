/** The font files of the pictures, Source Sans 3 (SIL Open Font License) from the package @fontsource/source-sans-3. */
import { createRequire } from "node:module";
import { GlobalFonts } from "@napi-rs/canvas";
import { FONT_SUBSETS, type FontSubset, subsetFamily } from "./font.ts";

export const FONT_WEIGHTS = [400, 600] as const;

export function fontFile(subset: FontSubset, weight: (typeof FONT_WEIGHTS)[number]): string {
  const file = `@fontsource/source-sans-3/files/source-sans-3-${subset}-${weight}-normal.woff2`;
  return createRequire(import.meta.url).resolve(file);
}

let registered = false;

/** Makes them known to the canvas. */
export function registerFonts(): void {
  if (registered) return;
  for (const subset of FONT_SUBSETS) {
    for (const weight of FONT_WEIGHTS) {
      const file = fontFile(subset, weight);
      if (GlobalFonts.registerFromPath(file, subsetFamily(subset)) === null) {
        throw new Error(`cannot read the font ${file}`);
      }
    }
  }
  registered = true;
}
