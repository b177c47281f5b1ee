/** What is used of dist/chart-renderer.cjs, made by build.mjs. */
declare module "#chart-renderer" {
  import type { ChartConfiguration } from "chart.js";
  export class ChartJSNodeCanvas {
    constructor(size: { readonly width: number; readonly height: number });
    /** Pixels: red, green, blue and alpha. */
    renderToBufferSync(configuration: ChartConfiguration, form: "raw"): Buffer;
  }
}
