/** Starts tried so far: each once, whoever asks for it again, and as many as may be. */
import { type Code, keyOf } from "./grid.ts";
import type { Trial } from "./trial.ts";

/** Tries one; `null` where it cannot be simulated. */
export type Player = (code: Code) => Promise<Trial | null>;

export interface Tried {
  /** In the order asked; those that cannot be simulated are left out. */
  readonly ask: (codes: readonly Code[]) => Promise<Trial[]>;
  readonly isKnown: (code: Code) => boolean;
  /** In the order in which they were first asked for, whatever the threads. */
  readonly all: () => readonly Trial[];
  readonly count: () => number;
}

export interface TriedOptions {
  /** Told before and while starts are tried. */
  readonly onProgress?: ((tried: number) => void) | undefined;
  /** As an `AbortSignal`, which not every reader of these types has. */
  readonly stop?: { readonly aborted: boolean } | undefined;
}

/** A search that was told to stop; what was tried until then stands. */
export class StoppedError extends Error {
  override readonly name = "StoppedError";
}

export function triedBy(play: Player, { onProgress, stop }: TriedOptions): Tried {
  const found = new Map<string, Trial | null>();
  let done = 0;
  const playOne = async (code: Code): Promise<Trial | null> => {
    // Whoever does not leave the thread must still hear of a signal.
    if (done % 16 === 15) await new Promise((resolve) => setTimeout(resolve));
    if (stop?.aborted) throw new StoppedError();
    const trial = await play(code);
    done++;
    onProgress?.(done);
    return trial;
  };
  return {
    ask: async (codes) => {
      const fresh = new Map(codes.filter((code) => !found.has(keyOf(code))).map((code) => [keyOf(code), code]));
      const played = await Promise.allSettled([...fresh.values()].map(playOne));
      for (const [i, key] of [...fresh.keys()].entries()) {
        const one = played[i];
        if (one?.status === "fulfilled") found.set(key, one.value);
      }
      if (stop?.aborted) throw new StoppedError();
      const failed = played.find(({ status }) => status === "rejected");
      if (failed?.status === "rejected") throw failed.reason;
      return codes.flatMap((code) => found.get(keyOf(code)) ?? []);
    },
    isKnown: (code) => found.has(keyOf(code)),
    all: () => [...found.values()].filter((trial) => trial !== null),
    count: () => found.size,
  };
}

/** The same whatever the threads, and enough for them. */
const AT_ONCE = 16;

/** A few at a time, until that is enough. @returns whether all were asked for */
export async function askInTurn(
  tried: Tried,
  codes: readonly Code[],
  isEnough: (trials: readonly Trial[]) => boolean,
): Promise<boolean> {
  for (let i = 0; i < codes.length; i += AT_ONCE)
    if (isEnough(await tried.ask(codes.slice(i, i + AT_ONCE)))) return false;
  return true;
}
