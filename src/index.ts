/**
 * fillfront as a library: read a scenario, compile it, simulate it, analyse the run, write the report. The command line
 * uses nothing else.
 */
export * from "./core.ts";
export type { AnswerLine } from "./report/answer/answer.ts";
export type { PageSource, Shown } from "./report/answer/printed.ts";
export { bestText } from "./report/best/best-text.ts";
export { comparisonText } from "./report/comparison/comparison-text.ts";
export { drawingFiles, drawingRefusal, drawingReport, refusalOf, toScaleFiles } from "./report/drawing/drawing.ts";
export { drawingText } from "./report/drawing/drawing-finding.ts";
export { estimateText } from "./report/estimate/estimate-text.ts";
export { type BestTold, bestFiles, bestTold } from "./report/files/best-files.ts";
export { type ComparisonTold, comparisonFiles, comparisonTold } from "./report/files/comparison-files.ts";
export { fitFiles } from "./report/files/fit-files.ts";
export { growthFiles } from "./report/files/growth-files.ts";
export { layoutsFiles, type StudiedLayouts } from "./report/files/layouts-files.ts";
export type { ReportOptions } from "./report/files/report-options.ts";
export { reportFiles } from "./report/files/run-files.ts";
export { dipFiles, shortageFiles } from "./report/files/shortage-files.ts";
export { sweepFiles } from "./report/files/sweep-files.ts";
export { fitText } from "./report/fit/fit-report.ts";
export { ReportFolderError } from "./report/folder/folder.ts";
export { checkReportFolder, type ReportPut, writeReport } from "./report/folder/put-folder.ts";
export { growthText } from "./report/growth/growth-report.ts";
export { type LayoutsTold, layoutsTold } from "./report/layouts/because-text.ts";
export { titledLayouts } from "./report/layouts/layout-words.ts";
export { layoutsText } from "./report/layouts/layouts-text.ts";
export { type PrimeTold, primeText, primeTold } from "./report/prime/prime-text.ts";
export { lineFactsText } from "./report/run/line-facts-text.ts";
export { runAnswer } from "./report/run/run-answer.ts";
export { summary } from "./report/run/summary.ts";
export { messagesTogether } from "./report/run/warnings.ts";
export { dipText } from "./report/shortage/dip-report.ts";
export { variantsTold } from "./report/shortage/shortage-figures.ts";
export { shortageText } from "./report/shortage/shortage-report.ts";
export { sizeText } from "./report/size/size-report.ts";
export { commented, sketch } from "./report/size/starter.ts";
export { sweepText } from "./report/sweep/sweep-report.ts";
export { formatted } from "./report/text/json.ts";
export { tacticText } from "./report/text/tactic-words.ts";
export { PLAIN_STYLE, type Style } from "./report/text/terminal-lines.ts";
export { unplayableText } from "./report/text/unplayable-text.ts";
export { fitScenario } from "./study/fit/fit.ts";
export { type FitGiven, type FitPlan, MOST_UNKNOWNS, planFit } from "./study/fit/fit-given.ts";
export type * from "./study/fit/fit-results.ts";
export { type Unknown, type UnknownProblem, unknownOf } from "./study/fit/unknowns.ts";
export { readPart } from "./study/replications/part-file.ts";
export { readSweep } from "./study/sweep/sweep-file.ts";
