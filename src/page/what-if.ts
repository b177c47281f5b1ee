/** What is tried: the latest wish wins, one at a time in the worker; what is older is marked stale until the new answer is there. */
import type { Engine } from "./engine.ts";
import type { Answer, Asked, Outcome } from "./worker-messages.ts";

export interface Change {
  readonly path: readonly string[];
  readonly value: string;
}

export interface Trial {
  readonly asked: () => Asked;
  readonly ask: (asked: Asked) => void;
  /** A value of the file, changed in its text. */
  readonly change: (change: Change) => void;
  /** Done when nothing is left to answer. */
  readonly settled: () => Promise<void>;
}

export function trial(
  engine: Engine,
  first: Asked,
  hear: {
    readonly stale: (isStale: boolean) => void;
    readonly answered: (outcome: Outcome<Answer>, asked: Asked) => void;
    readonly failed: (why: string) => void;
  },
): Trial {
  let asked = first;
  let changes: Change[] = [];
  let isWanted = false;
  let work: Promise<void> | null = null;

  async function go(): Promise<void> {
    hear.stale(true);
    while (isWanted || changes.length > 0) {
      const now = changes;
      [changes, isWanted] = [[], false];
      try {
        for (const { path, value } of latestOf(now)) {
          asked = { ...asked, text: await engine.ask({ ask: "edit", text: asked.text, path, value }) };
        }
        const mine = asked;
        const outcome = await engine.ask({ ask: "answer", ...mine });
        // Marked stale where something newer is wanted meanwhile, and shown all the same.
        hear.answered(outcome, mine);
      } catch (error) {
        hear.failed(error instanceof Error ? error.message : String(error));
      }
    }
    hear.stale(false);
    work = null;
  }

  const start = (): void => {
    work ??= go();
  };
  return {
    asked: () => asked,
    ask: (wanted) => {
      asked = wanted;
      [changes, isWanted] = [[], true];
      start();
    },
    change: (change) => {
      changes.push(change);
      start();
    },
    settled: async () => {
      while (work !== null) await work;
    },
  };
}

function latestOf(changes: readonly Change[]): Change[] {
  return [...new Map(changes.map((change) => [change.path.join("\n"), change])).values()];
}
