/**
 * fillfront as a library: read a scenario, compile it, simulate it, analyse the run, write the report. The command line
 * uses nothing else.
 */
export { type Analysis, analyse } from "./analysis/analyse.ts";
export { type Estimate, estimate } from "./analysis/estimate.ts";
export {
  type FlowPhase,
  type FlowRefusal,
  type FlowSolution,
  flowAt,
  solveFlow,
} from "./analysis/flow/flow.ts";
export { type LineFacts, lineFacts } from "./analysis/line-facts.ts";
export type * from "./analysis/result.ts";
export type { MachineSeries, OutputSeries, Series } from "./analysis/series.ts";
export { ConservationError } from "./engine/conservation.ts";
export { type Run, type SimulationOptions, simulate } from "./engine/simulate.ts";
export { asCustom } from "./network/as-custom.ts";
export { compile, TooFineError } from "./network/compile.ts";
export { expand } from "./network/expand.ts";
export type * from "./network/network.ts";
export { type Prepared, prepare } from "./network/prepare.ts";
export type { Program } from "./network/program.ts";
export { exact, type Rational, rational } from "./quantity/rational.ts";
export { type ParsedQuantity, parseQuantity, type QuantityKind } from "./quantity/units.ts";
export { estimateText } from "./report/estimate-text.ts";
export { checkReportFolder, ReportFolderError, writeReport } from "./report/folder.ts";
export { lineFactsText } from "./report/line-facts-text.ts";
export { type ReportOptions, reportFiles } from "./report/report.ts";
export { PLAIN_STYLE, type Style, summary } from "./report/summary.ts";
export { type Finding, formatFinding, type Locate } from "./scenario/finding.ts";
export { MAX_FILE_BYTES, MAX_HORIZON_MIN, MAX_SEED_LENGTH } from "./scenario/limits.ts";
export { type ReadOutcome, readScenario } from "./scenario/read.ts";
export type * from "./scenario/scenario.ts";
export { scenarioSchema } from "./scenario/schema.ts";
export { writeScenario } from "./scenario/write.ts";
