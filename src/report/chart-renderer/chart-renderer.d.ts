/** dist/chart-renderer.cjs, made by build.mjs. */
declare module "#chart-renderer" {
  export { ChartJSNodeCanvas } from "chartjs-node-canvas";
}
