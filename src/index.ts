/**
 * fillfront as a library: read a scenario, compile it, simulate it, analyse the run, write the report. The command line
 * uses nothing else.
 */
export * from "./core.ts";
export type { AnswerLine } from "./report/answer/answer.ts";
export type { Shown } from "./report/answer/page.ts";
export { runAnswer } from "./report/answer/run-answer.ts";
export { bestFiles } from "./report/best/best.ts";
export { bestText } from "./report/best/best-text.ts";
export { comparisonFiles } from "./report/comparison/comparison.ts";
export { comparisonText } from "./report/comparison/comparison-text.ts";
export { drawingFiles, drawingRefusal, drawingReport, refusalOf, toScaleFiles } from "./report/drawing/drawing.ts";
export { drawingText } from "./report/drawing/finding.ts";
export { estimateText } from "./report/estimate-text.ts";
export { fitFiles } from "./report/fit/fit.ts";
export { fitText } from "./report/fit/fit-text.ts";
export { ReportFolderError } from "./report/folder.ts";
export { growthFiles } from "./report/growth/growth.ts";
export { growthText } from "./report/growth/growth-text.ts";
export { formatted } from "./report/json.ts";
export { layoutsFiles, type StudiedLayouts } from "./report/layouts/layouts.ts";
export { layoutsText } from "./report/layouts/layouts-text.ts";
export { lineFactsText } from "./report/line-facts-text.ts";
export type { PageSource } from "./report/page/page.ts";
export { primeText } from "./report/prime-text.ts";
export { checkReportFolder, type ReportPut, writeReport } from "./report/put-folder.ts";
export { type ReportOptions, reportFiles } from "./report/report.ts";
export { dipText } from "./report/shortage/dip-text.ts";
export { dipFiles, shortageFiles } from "./report/shortage/shortage.ts";
export { shortageText } from "./report/shortage/shortage-text.ts";
export { commented } from "./report/size/commented.ts";
export { sizeText } from "./report/size/size-text.ts";
export { sketch } from "./report/size/sketch.ts";
export { PLAIN_STYLE, type Style } from "./report/style.ts";
export { summary } from "./report/summary.ts";
export { sweepFiles } from "./report/sweep/sweep.ts";
export { sweepText } from "./report/sweep/sweep-text.ts";
export { messagesTogether } from "./report/warnings.ts";
export { fitScenario } from "./study/fit/fit.ts";
export type * from "./study/fit/fit-results.ts";
export { type FitGiven, type FitPlan, MOST_UNKNOWNS, planFit } from "./study/fit/plan.ts";
export { type Unknown, type UnknownProblem, unknownOf } from "./study/fit/unknowns.ts";
export { readPart } from "./study/part-file.ts";
export { readSweep } from "./study/sweep-file.ts";
