/** Parts of replications and comparisons: `--shard`, and the folder that `gather` reads. */
import { basename } from "node:path";
import { type Part, type PartStudy, replicationsOfShard, type Shard } from "../index.ts";
import { RefusedError } from "./exit.ts";
import { type Input, wholeText } from "./input.ts";
import type { Overrides } from "./overrides.ts";
import { type Put, putReport } from "./report-folders.ts";
import { shardFrom } from "./sweep-request.ts";
import type { Terminal } from "./terminal.ts";
import { version } from "./version.ts";

export interface ShardOption {
  readonly shard?: string;
  readonly json?: boolean;
}

/** @returns `null` for all replications @throws RefusedError */
export function partFrom({ shard: stated, json = false }: ShardOption): Shard | null {
  const shard = shardFrom(stated);
  if (shard !== null && json) {
    throw new RefusedError("--json prints the whole: leave it out here, and ask gather for it");
  }
  return shard;
}

/** At the end of a folder's name. */
export function partSuffix(shard: Shard | null): string {
  return shard === null ? "" : `-${shard.part}-of-${shard.of}`;
}

/** @throws RefusedError */
export function refuseEmpty(shard: Shard | null, replications: number): void {
  if (shard !== null && shard.of > replications) {
    throw new RefusedError(`--shard ${shard.part}/${shard.of}: there are only ${replications} replications to share`);
  }
}

/** @param played how many replications of it are complete */
export async function putPart(
  folder: string | null,
  given: {
    readonly input: Input;
    readonly overrides: Overrides;
    readonly replications: number;
    readonly shard: Shard;
    readonly study: PartStudy;
  },
  runs: Pick<Part, "runs" | "levels" | "variants">,
  played: number,
  terminal: Terminal,
): Promise<Put> {
  const { input, overrides, replications, shard, study } = given;
  const part: Part = {
    made_by: `fillfront ${version()}`,
    file: basename(input.file),
    scenario: input.name,
    text: wholeText(input),
    ...overrides,
    replications,
    study,
    shard: `${shard.part}/${shard.of}`,
    ...runs,
  };
  const of = replicationsOfShard(replications, shard).length;
  terminal.tell(`${input.file}: ${played} of the ${of} replications of part ${part.shard} are complete, for gather`);
  return putReport(folder, () => new Map([["part.json", `${JSON.stringify(part)}\n`]]));
}
