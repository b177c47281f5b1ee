/** Renders a chart.js configuration to a PNG, the same bytes in every process, whatever fonts are installed. */
import { createRequire } from "node:module";
import { GlobalFonts, type SKRSContext2D } from "@napi-rs/canvas";
import type { ChartConfiguration, Plugin } from "chart.js";
import { ChartJSNodeCanvas } from "chartjs-node-canvas";
import { FONT_SUBSETS, subsetFamily } from "./font.ts";
import { PAPER } from "./palette.ts";

const WEIGHTS = [400, 600] as const;

let registered = false;

/** Source Sans 3 (SIL Open Font License) from the package @fontsource/source-sans-3. */
function registerFonts(): void {
  if (registered) return;
  const require = createRequire(import.meta.url);
  for (const subset of FONT_SUBSETS) {
    for (const weight of WEIGHTS) {
      const file = `@fontsource/source-sans-3/files/source-sans-3-${subset}-${weight}-normal.woff2`;
      if (GlobalFonts.registerFromPath(require.resolve(file), subsetFamily(subset)) === null) {
        throw new Error(`cannot read the font ${file}`);
      }
    }
  }
  registered = true;
}

/** Otherwise text is shaped for the language of the host. */
const language: Plugin = {
  id: "language",
  beforeLayout(chart) {
    const ctx: SKRSContext2D = chart.ctx;
    ctx.lang = "en";
  },
};

/** @param width, height pixels */
export function renderPng(config: ChartConfiguration, width: number, height: number): Uint8Array {
  registerFonts();
  const canvas = new ChartJSNodeCanvas({ width, height, backgroundColour: PAPER });
  return canvas.renderToBufferSync({ ...config, plugins: [language, ...(config.plugins ?? [])] }, "image/png");
}
