/**
 * What runs anywhere, in browsers and their workers as well as in Node: read a scenario, compile it, simulate it, analyse the run,
 * and the studies of several runs. Reports and fits are in index.ts.
 */
export { type Analysis, analyse } from "./analysis/analyse.ts";
export type * from "./analysis/chance-results.ts";
export { type Estimate, estimate } from "./analysis/estimate.ts";
export { type DrawnPlace, type DrawnWay, type FloorDrawing, floorDrawing } from "./analysis/floor-drawing.ts";
export {
  type FlowPhase,
  type FlowRefusal,
  type FlowSolution,
  flowAt,
  solveFlow,
} from "./analysis/flow/flow.ts";
export type * from "./analysis/fragile-results.ts";
export { type LineFacts, lineFacts } from "./analysis/line-facts.ts";
export type { LossMoney } from "./analysis/money.ts";
export { type DrawnBelt, type DrawnElement, type PlantDrawing, plantDrawing } from "./analysis/plant-drawing.ts";
export type * from "./analysis/plant-results.ts";
export type * from "./analysis/result.ts";
export type { MachineSeries, OutputSeries, Series } from "./analysis/series.ts";
export { ConservationError } from "./engine/conservation.ts";
export { type Frame, type Player, playerOf } from "./engine/player.ts";
export { type Run, type SimulationOptions, simulate } from "./engine/simulate.ts";
export { BLOCKED, DOWN, HELD, RUNNING, STARVED } from "./engine/states.ts";
export { asCustom } from "./network/as-custom.ts";
export { compile, TooFineError } from "./network/compile.ts";
export { expand } from "./network/expand.ts";
export { finalMachines as finalMachineIds } from "./network/graph.ts";
export { type LeastBelt, leastBelts } from "./network/least-belts.ts";
export type * from "./network/network.ts";
export { overfedLoops } from "./network/overfed.ts";
export { type Prepared, prepare } from "./network/prepare.ts";
export type { Program } from "./network/program.ts";
export type * from "./network/random-program.ts";
export { type DividerPlan, dividerPlans } from "./network/shared-line.ts";
export type { Ways } from "./quantity/counts.ts";
export { exact, larger, type Rational, rational } from "./quantity/rational.ts";
export { formatDuration, type ParsedQuantity, parseQuantity, type QuantityKind } from "./quantity/units.ts";
export type { Distribution } from "./scenario/distribution.ts";
export { withValue } from "./scenario/edit.ts";
export { type FileFinding as Finding, formatFinding, type Locate } from "./scenario/file-finding.ts";
export { MAX_FILE_BYTES, MAX_HORIZON_MIN, MAX_SEED_LENGTH, MOST_WAYS, NAME_PATTERN } from "./scenario/file-limits.ts";
export { type Horizon, openHorizon, statedHorizon } from "./scenario/horizon.ts";
export { type Knob, knobsOf } from "./scenario/knobs.ts";
export { nearest } from "./scenario/nearest.ts";
export { isPrintable, printable } from "./scenario/printable.ts";
export type * from "./scenario/random-elements.ts";
export {
  type DraftOutcome,
  type ReadOptions,
  type ReadOutcome,
  readDraft,
  readScenario,
  scenarioReader,
  tableOf,
} from "./scenario/read.ts";
export type * from "./scenario/scenario.ts";
export { LENGTHS } from "./scenario/scenario.ts";
export { scenarioSchema } from "./scenario/schema.ts";
export type { Setting } from "./scenario/settings.ts";
export type { TableRows } from "./scenario/table.ts";
export type { Tables } from "./scenario/tables.ts";
export type * from "./scenario/tactic.ts";
export type * from "./scenario/tactic-parts.ts";
export type * from "./scenario/tactic-prefill.ts";
export type * from "./scenario/tactic-shapes.ts";
export { writeScenario } from "./scenario/write.ts";
export {
  type BestFound,
  type BestOptions as BestStudyOptions,
  bestStarts,
  searchedScenario,
  startPlayer,
} from "./study/best/best.ts";
export type * from "./study/best/best-results.ts";
export type { Code as StartCode } from "./study/best/grid.ts";
export { bestFew, withLuck } from "./study/best/on-luck.ts";
export type { Trial as StartTrial } from "./study/best/trial.ts";
export type { CardTime, PlacedAt } from "./study/card-steps.ts";
export {
  type CompareOptions as ComparisonOptions,
  type Comparing,
  compareTactics,
  comparing,
} from "./study/comparison/compare.ts";
export { knownTactics, standardTactics } from "./study/comparison/standard-tactics.ts";
export { withCures } from "./study/further/cures.ts";
export { withFragileShares } from "./study/further/fragile.ts";
export { withFurtherRuns } from "./study/further/further-runs.ts";
export { withNeededRooms } from "./study/further/needed-room.ts";
export { withSensitivity } from "./study/further/sensitivity.ts";
export { type GrowthRefusal, growChain, growing, growingGroup } from "./study/growth/grow.ts";
export { withHorizon } from "./study/horizon.ts";
export type * from "./study/layouts/layout-results.ts";
export { PRIORITIES } from "./study/layouts/layout-results.ts";
export type { LaidOut } from "./study/layouts/layout-runs.ts";
export {
  type LayoutsDone,
  type LayoutsDrawn,
  type LayoutsOptions,
  layoutStudy,
  layoutsDrawn,
  layoutsWeighed,
} from "./study/layouts/layouts.ts";
export type { LayoutsRefusal } from "./study/layouts/line.ts";
export { comparisonOnLuck, type TacticRuns } from "./study/luck/luck-comparison.ts";
export { layoutsOnLuck } from "./study/luck/luck-layouts.ts";
export { type LayoutVariant, type LayoutVariants, layoutVariants } from "./study/luck/luck-variants.ts";
export { playVariants } from "./study/luck/play-variants.ts";
export { luckGrid, playVariant } from "./study/luck/variant-run.ts";
export type * from "./study/luck-results.ts";
export { NO_TACTIC, tryTactic, UnplayableError } from "./study/play.ts";
export { type Dosed, dosedTactics } from "./study/prime/doses.ts";
export { leastDoses } from "./study/prime/prime.ts";
export { type Goals as StartGoals, NO_GOALS } from "./study/recommended/goals.ts";
export { gatheredRuns, gatheredVariants, type PartsProblem, partsProblem } from "./study/replications/gather-parts.ts";
export {
  type Part,
  type PartHead,
  type PartStudy,
  replicationsOfShard,
  runsPart,
  variantsPart,
} from "./study/replications/part.ts";
export {
  playReplication,
  type Replication,
  type ReplicationGrid,
  replicationSeed,
} from "./study/replications/replication.ts";
export {
  askFor,
  type Collected,
  LEAST_LOOKED_AT,
  MOST_REPLICATIONS,
  NONE_COLLECTED,
  playReplications,
  type ReplicationsAsked,
  type ReplicationsSummary,
  summariseReplications,
  UNTIL_FIGURES,
  USUAL_MOST,
  untilFigure,
  withReplications,
} from "./study/replications/replications.ts";
export type * from "./study/results.ts";
export { START_PRIORITIES, type StartPriority } from "./study/results.ts";
export { dippingFeeds, studyDip } from "./study/shortage/dip.ts";
export { type DipGiven, loweredText } from "./study/shortage/lowered-feeds.ts";
export { type ShortageOptions as ShortageStudyOptions, shortening, studyShortage } from "./study/shortage/shortage.ts";
export type * from "./study/shortage/shortage-results.ts";
export { writtenAsStated } from "./study/size/as-stated.ts";
export { type Draft, type SizeOptions, type SizeOutcome, sizePlant } from "./study/size/size.ts";
export type * from "./study/size/size-results.ts";
export { playerFor, type Shown, type Staged, shown, staged, stagedWith } from "./study/staged.ts";
export { type Gathered, gatherSweep } from "./study/sweep/gather-sweep.ts";
export {
  MOST_POINTS,
  type PlannedPoint,
  plannedPoints,
  playPoint,
  pointsOfShard,
  type Shard,
  type SweepProblem,
  sweptQuantity,
} from "./study/sweep/sweep.ts";
export type * from "./study/sweep/sweep-results.ts";
export type { CardDeed, CardStep } from "./study/tactic-parts.ts";
export type { VariantRun } from "./study/variant-outcome.ts";
