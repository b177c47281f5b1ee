/** Ctrl-C and its like, held off where they would leave something half done. */

const SIGNALS: readonly NodeJS.Signals[] = ["SIGINT", "SIGTERM", "SIGHUP"];

/** Does the work to its end and heeds a signal only then; a second one ends the program at once. */
export async function uninterrupted(work: () => Promise<void>): Promise<void> {
  let heard: NodeJS.Signals | null = null;
  const hear = (signal: NodeJS.Signals): void => {
    heard = signal;
  };
  for (const signal of SIGNALS) process.once(signal, hear);
  try {
    await work();
  } finally {
    for (const signal of SIGNALS) process.off(signal, hear);
    if (heard !== null) process.kill(process.pid, heard);
  }
}

/**
 * Does work that can be stopped: a first signal only tells it so, a second one ends the program at once.
 * @returns the signal that was heard, for the program to end by once what was done is safe
 */
export async function stoppable(work: (stop: AbortSignal) => Promise<void>): Promise<NodeJS.Signals | null> {
  const stop = new AbortController();
  const heard: NodeJS.Signals[] = [];
  const hear = (signal: NodeJS.Signals): void => {
    heard.push(signal);
    stop.abort();
  };
  for (const signal of SIGNALS) process.once(signal, hear);
  try {
    await work(stop.signal);
  } finally {
    for (const signal of SIGNALS) process.off(signal, hear);
  }
  return heard[0] ?? null;
}
