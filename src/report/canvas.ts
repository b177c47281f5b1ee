/** Renders a chart.js configuration to a PNG, the same bytes in every process, whatever fonts are installed. */
import type { SKRSContext2D } from "@napi-rs/canvas";
import type { ChartConfiguration, Plugin } from "chart.js";
import { ChartJSNodeCanvas } from "chartjs-node-canvas";
import { PAPER } from "./palette.ts";
import { registerFonts } from "./registered-fonts.ts";

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
