/** The runs of a study, one after the other or shared among threads: whoever plays which, they come to the same. */
import { exact, type Scenario } from "../index.ts";
import type { Input } from "./input.ts";
import { type Overrides, statedOverrides } from "./overrides.ts";
import { playable } from "./playable.ts";
import type { StudyAsked } from "./study-worker.ts";
import { jobsFrom } from "./sweep-request.ts";
import { progressBar, type Terminal } from "./terminal.ts";

export interface StudyRuns<Result> {
  /** What a worker thread is told, so that it plays the same. */
  readonly asked: StudyAsked;
  /** With the horizon of all. */
  readonly scenario: Scenario;
  /** By place, how many machines are run, each time they are. */
  readonly machines: readonly number[];
  /** By place. @throws UnplayableError */
  readonly play: (place: number) => Result;
}

/** So many runs of a machine take about as long as it takes to start a thread. */
const FEW = 300;

/** @returns by place. @throws RefusedError */
export async function playedRuns<Result>(
  input: Input,
  { asked, scenario, machines, play }: StudyRuns<Result>,
  options: Overrides & { readonly jobs?: string },
  terminal: Pick<Terminal, "progress">,
): Promise<readonly Result[]> {
  const { file } = input;
  const of = machines.length;
  const own = {
    of,
    play: (place: number): Result => playable(file, () => play(place)),
    tell: (done: number): void => terminal.progress(`${file}: ${progressBar(Math.min(done, of), of)} runs`),
  };
  const jobs = Math.min(jobsFrom(options.jobs, of), Math.ceil(sum(machines) / FEW));
  if (jobs <= 1) {
    return machines.map((_, place) => {
      own.tell(place);
      return own.play(place);
    });
  }
  const { text, name, tables } = input;
  const stated = statedOverrides(options);
  const overrides = scenario.horizonIsAuto ? { ...stated, horizon: `${exact(scenario.horizonMin)} min` } : stated;
  // Loaded only now, since it needs threads.
  const { sharedRuns } = await import("./study-pool.ts");
  return sharedRuns(own, { text, name, tables, overrides, asked }, jobs);
}

export function machinesIn({ machines }: Scenario): number {
  return sum(machines.map(({ members }) => members.length));
}

function sum(counts: readonly number[]): number {
  return counts.reduce((all, count) => all + count, 0);
}
