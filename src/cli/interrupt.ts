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
