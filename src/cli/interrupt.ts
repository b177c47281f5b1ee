/** Ctrl-C and its like, held off where they would leave something half done. */

const SIGNALS: readonly NodeJS.Signals[] = ["SIGINT", "SIGTERM", "SIGHUP"];

/** Once one was heard, nothing holds the next one off: it ends the program at once. */
let heard: NodeJS.Signals | null = null;

let say: (text: string) => void = () => undefined;

/** @param tell shows a line, so that who pressed Ctrl-C has an answer at once, though what is under way ends first */
export function sayWhenHeldOff(tell: (text: string) => void): void {
  say = tell;
}

/** Does the work to its end and heeds a signal only then; a second one ends the program at once. */
export async function uninterrupted(work: () => Promise<void>): Promise<void> {
  const isFirst = heard === null;
  const stopListening = listening("putting the report in its place");
  try {
    await work();
  } finally {
    stopListening();
    if (isFirst && heard !== null) process.kill(process.pid, heard);
  }
}

/**
 * Does work that can be stopped: a first signal only tells it so, a second one ends the program at once.
 * @returns the signal that was heard, for the program to end by once what was done is safe
 */
export async function stoppable(work: (stop: AbortSignal) => Promise<void>): Promise<NodeJS.Signals | null> {
  const stop = new AbortController();
  const stopListening = listening("stopping", () => stop.abort());
  try {
    await work(stop.signal);
  } finally {
    stopListening();
  }
  return heard;
}

function listening(first: string, onHeard: () => void = () => undefined): () => void {
  const end = (): void => {
    for (const signal of SIGNALS) process.off(signal, hear);
  };
  const hear = (signal: NodeJS.Signals): void => {
    heard = signal;
    end();
    say(`${first}; Ctrl-C again ends at once`);
    onHeard();
  };
  if (heard === null) for (const signal of SIGNALS) process.on(signal, hear);
  return end;
}
