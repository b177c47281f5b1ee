/** What `compare` and `layouts` are asked for where something is left to chance. */
import type { Shard } from "../index.ts";
import { RefusedError } from "./exit.ts";
import type { Input } from "./input.ts";
import { refuseEmpty } from "./part.ts";
import type { Terminal } from "./terminal.ts";

export interface LuckOptions {
  readonly replications?: string;
  readonly jobs?: string;
  readonly look?: string;
}

/** Where none are asked for: one run of each tells nothing under chance. */
const USUAL = 10;
const MOST = 1000;

/** @returns replications of each variant; `null` where nothing is left to chance. @throws RefusedError */
export function luckFrom(
  { replications }: LuckOptions,
  { file, prepared }: Input,
  { tell }: Pick<Terminal, "tell">,
): number | null {
  const asked = replications === undefined ? USUAL : countFrom(replications);
  if (prepared.program.random !== null) {
    if (replications === undefined)
      tell(`${file}: chance plays a part: ${USUAL} replications of each are played, as --replications is not stated`);
    return asked;
  }
  if (replications === undefined) return null;
  throw new RefusedError(
    `${file}: nothing is left to chance, so that every replication would be the same and one run of each tells all; state what is random in the file, or leave out --replications`,
  );
}

function countFrom(text: string): number {
  const count = /^\d{1,6}$/.test(text) ? Number(text) : 0;
  if (count === 1) {
    throw new RefusedError(
      "--replications 1: what one run of each shows may be luck; differences take 2 or more, better 10",
    );
  }
  if (count >= 2 && count <= MOST) return count;
  throw new RefusedError(
    `--replications ${JSON.stringify(text)}: expected a whole number from 2 to ${MOST}, such as 30`,
  );
}

/** @throws RefusedError */
export function refuseShard(shard: Shard | null, replications: number | null): void {
  if (shard !== null && replications === null) {
    throw new RefusedError(
      "--shard is a part of replications; nothing is left to chance, and one run of each tells all",
    );
  }
  refuseEmpty(shard, replications ?? 0);
}

const MOST_LOOKS = 9;

/** @returns which look at a comparison it is, from 1 @throws RefusedError */
export function lookFrom({ look }: LuckOptions): number {
  if (look === undefined) return 1;
  if (/^\d$/.test(look) && Number(look) >= 1) return Number(look);
  throw new RefusedError(
    `--look ${JSON.stringify(look)}: expected which look at this comparison it is, from 1 to ${MOST_LOOKS}: 2 after going on once`,
  );
}
