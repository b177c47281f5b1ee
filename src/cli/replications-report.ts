/** The report of replications. */
import { basename } from "node:path";
import {
  analyse,
  formatFinding,
  type ReplicationsSummary,
  type Result,
  reportFiles,
  simulate,
  solveFlow,
  withNeededRooms,
  withReplications,
} from "../index.ts";
import type { Input } from "./input.ts";
import { pageSource } from "./page-source.ts";
import { type Put, putReport } from "./report-folders.ts";

export interface Reported {
  readonly result: Result;
  readonly put: Put;
}

/** All but the replications is of the one that made the median number of products. */
export async function reported(
  input: Input,
  summed: ReplicationsSummary,
  folder: string | null,
  { charts }: { readonly charts: boolean },
): Promise<Reported> {
  const { scenario, prepared, warnings, file } = input;
  const { program, horizonTicks, network } = prepared;
  const { replications } = summed;
  const run = simulate(program, { horizonTicks, seed: replications.median.seed });
  const told = warnings.map((finding) => formatFinding(finding, basename(file)));
  const { result: median, series } = analyse(run, scenario, solveFlow(network), told);
  const result = withReplications(
    withNeededRooms(median, { ...scenario, seed: replications.median.seed }),
    replications,
    scenario.costs,
  );
  // What is shown in motion is the median run.
  const source = pageSource(input, { seed: replications.median.seed });
  return { result, put: await putReport(folder, () => reportFiles(result, series, { charts, source }, summed)) };
}
