/** Renders a chart.js configuration to a PNG, the same bytes in every process, whatever fonts are installed. */

import type { SKRSContext2D } from "@napi-rs/canvas";
import type { ChartConfiguration, Plugin } from "chart.js";
import { ChartJSNodeCanvas } from "#chart-renderer";
import { encoded } from "./encoded.ts";
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

/** Beneath all else. */
const paper: Plugin = {
  id: "paper",
  beforeDraw({ ctx, width, height }) {
    ctx.save();
    ctx.globalCompositeOperation = "destination-over";
    ctx.fillStyle = PAPER;
    ctx.fillRect(0, 0, width, height);
    ctx.restore();
  },
};

/** One for pictures of all sizes, since each new one loads chart.js anew; a chart is given its size as it begins. */
let charts: ChartJSNodeCanvas | null = null;

/**
 * The chart is drawn at once and encoded on another thread.
 * @param width, height pixels
 */
export function renderPng(config: ChartConfiguration, width: number, height: number): Promise<Uint8Array> {
  registerFonts();
  charts ??= new ChartJSNodeCanvas({ width: 1, height: 1 });
  const size: Plugin = { id: "size", beforeInit: (chart) => chart.resize(width, height) };
  const options = { ...config.options, maintainAspectRatio: false };
  const plugins = [size, language, paper, ...(config.plugins ?? [])];
  return encoded(charts.renderToBufferSync({ ...config, options, plugins }, "raw"), width, height);
}
