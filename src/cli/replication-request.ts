/** What `run` is asked for where chance is to be played several times. */
import {
  askFor,
  LEAST_LOOKED_AT,
  MOST_REPLICATIONS,
  parseQuantity,
  type ReplicationsAsked,
  UNTIL_FIGURES,
  USUAL_MOST,
  untilFigure,
} from "../index.ts";
import { RefusedError } from "./exit.ts";
import type { Input } from "./input.ts";

export interface ReplicationOptions {
  readonly replications?: string;
  readonly until?: string;
  readonly jobs?: string;
}

export function asksForReplications({ replications, until }: ReplicationOptions): boolean {
  return replications !== undefined || until !== undefined;
}

const EXAMPLE = '--until "settled_output_per_min=2 %"';

/** @throws RefusedError */
export function replicationsFrom(options: ReplicationOptions, { file, scenario, prepared }: Input): ReplicationsAsked {
  const { network, program } = prepared;
  const machines = network.machines.map(({ id }) => id);
  const until = options.until === undefined ? null : untilFrom(options.until, machines);
  const most = options.replications === undefined ? USUAL_MOST : countFrom(options.replications);
  if (until !== null && most < LEAST_LOOKED_AT) {
    throw new RefusedError(
      `--replications ${most}: an interval is looked at after ${LEAST_LOOKED_AT} replications at the earliest; allow more, or leave out --until`,
    );
  }
  if (program.random === null) {
    throw new RefusedError(
      `${file}: nothing is left to chance, so that every replication would be the same and one run tells all; state what is random in the file, or leave out ${options.replications === undefined ? "--until" : "--replications"}`,
    );
  }
  return askFor(network, { most, until, seed: scenario.seed });
}

function countFrom(text: string): number {
  const count = /^\d{1,6}$/.test(text) ? Number(text) : 0;
  if (count === 1) {
    throw new RefusedError(
      "--replications 1: one run is what fillfront run makes by itself; an interval takes 2 or more, better 10",
    );
  }
  if (count >= 2 && count <= MOST_REPLICATIONS) return count;
  throw new RefusedError(
    `--replications ${JSON.stringify(text)}: expected a whole number from 2 to ${MOST_REPLICATIONS}, such as 100`,
  );
}

function untilFrom(text: string, machines: readonly string[]): NonNullable<ReplicationsAsked["until"]> {
  const [, name = "", width = ""] = /^([^=]*)=(.*)$/s.exec(text)?.map((part) => part.trim()) ?? [];
  const shown = `--until ${JSON.stringify(text)}`;
  const figure = untilFigure(name, machines);
  if (figure === null) {
    const known = [...UNTIL_FIGURES, `uptime.${machines[0] ?? ""}`].join(", ");
    throw new RefusedError(`${shown}: expected a figure and a width, such as ${EXAMPLE}; figures are ${known}`);
  }
  const share = parseQuantity("percentage", width);
  const value = share.ok ? share.value.valueOf() : 0;
  if (value >= LEAST_SHARE && value < 1) return { figure, share: value };
  throw new RefusedError(`${shown}: expected a half-width of 0.01 % or more and below 100 %, such as ${EXAMPLE}`);
}

const LEAST_SHARE = 1e-4;
