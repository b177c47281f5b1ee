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
import { type Put, putReport } from "./report-folders.ts";

export interface Reported {
  readonly result: Result;
  readonly put: Put;
}

/** All but the replications is of the one that made the median number of products. */
export async function reported(
  { scenario, prepared, warnings, file }: Input,
  summed: ReplicationsSummary,
  folder: string | null,
  { charts }: { readonly charts: boolean },
): Promise<Reported> {
  const { program, horizonTicks, network } = prepared;
  const { replications } = summed;
  const run = simulate(program, { horizonTicks, seed: replications.median.seed });
  const told = warnings.map((finding) => formatFinding(finding, basename(file)));
  const { result: median, series } = analyse(run, scenario, solveFlow(network), told);
  const result = withReplications(
    withNeededRooms(median, { ...scenario, seed: replications.median.seed }),
    replications,
  );
  return { result, put: await putReport(folder, () => reportFiles(result, series, { charts }, summed)) };
}
