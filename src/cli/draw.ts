/** fillfront draw: the plant as a drawing, with what passes every belt. */
import {
  analyse,
  drawingRefusal,
  drawingReport,
  drawingText,
  floorDrawing,
  formatted,
  plantDrawing,
  refusalOf,
  simulate,
  solveFlow,
  toScaleFiles,
} from "../index.ts";
import { RefusedError } from "./exit.ts";
import { readInput, tellWarnings } from "./input.ts";
import { type Overrides, overridesOf } from "./overrides.ts";
import { howMuch, putReport, reportFolder, tellPut } from "./report-folders.ts";
import type { Terminal } from "./terminal.ts";

export interface DrawOptions extends Overrides {
  readonly out?: string;
  readonly json?: boolean;
  readonly toScale?: boolean;
}

export async function draw(file: string, options: DrawOptions, terminal: Terminal): Promise<void> {
  const folder = await reportFolder(file, options, "-drawing");
  const { file: shown, scenario, prepared, warnings } = await readInput(file, overridesOf(options));
  const { program, horizonTicks, network } = prepared;
  const { feeds, merges, dividers, machines, connections } = network;
  // Before it is simulated for long; outlets that nothing comes to are not drawn.
  const parts = [feeds, merges, dividers, machines, connections].reduce((total, list) => total + list.length, 0);
  refuse(shown, drawingRefusal(machines.length, parts));
  tellWarnings(warnings, shown, terminal);
  const onProgress = (share: number): void => terminal.progress(`${shown}: simulating, ${Math.floor(share * 100)} %`);
  const { result } = analyse(
    simulate(program, { horizonTicks, seed: scenario.seed, onProgress }),
    scenario,
    solveFlow(network),
    [],
  );
  const drawing = plantDrawing(network, result);
  refuse(shown, refusalOf(drawing));
  const put = await putReport(folder, async () => {
    terminal.progress(`${shown}: drawing`);
    const files = await drawingReport(drawing);
    if (!options.toScale) return files;
    const floors = network.lines.map((line) => floorDrawing(scenario, network, line));
    return new Map([...files, ...(await toScaleFiles(floors))]);
  });
  if (options.json) await terminal.printJson(formatted("draw", drawing));
  else await terminal.print(drawingText(drawing, terminal.style, howMuch(put, terminal)));
  tellPut(put, terminal);
}

function refuse(file: string, refusal: string | null): void {
  if (refusal !== null) throw new RefusedError(`${file}: ${refusal}`);
}
