/** The report of a sweep that gather has joined. */
import { formatted, type Sweep, sweepFiles, sweepText } from "../index.ts";
import type { GatherOptions } from "./gather-request.ts";
import { howMuch, putReport, reportFolder, tellPut } from "./report-folders.ts";
import type { Terminal } from "./terminal.ts";

export async function reportSweep(sweep: Sweep, options: GatherOptions, terminal: Terminal): Promise<void> {
  // The ending of a file's name is left off there.
  const folder = await reportFolder(`${sweep.scenario}.json`, options, "-sweep");
  if (folder !== null) terminal.progress("writing the report");
  const put = await putReport(folder, () => sweepFiles(sweep, { charts: options.charts }));
  if (options.json) await terminal.printJson(formatted("sweep", sweep));
  else await terminal.print(sweepText(sweep, terminal.style, howMuch(put, terminal)));
  tellPut(put, terminal);
}
