/** The recommended start with nothing that it does not need, and nothing better beside it. */
import type { Grid } from "./grid.ts";
import { neighboursOf, weakerThan } from "./neighbours.ts";
import type { Trial } from "./trial.ts";
import { askInTurn, type Tried } from "./tried.ts";

/**
 * As long as one step less leads as well, that is taken; only the last has all that lies beside it tried, until something better is found.
 * @param leads whether one is as good by the rule as all that has been tried
 * @returns `null` where something better was found
 * @throws StoppedError
 */
export async function provedLean(
  grid: Grid,
  tried: Tried,
  from: Trial,
  leads: (one: Trial) => boolean,
): Promise<Trial | null> {
  const refused = new Set<Trial>();
  const oneLess = async ({ code }: Trial): Promise<Trial | undefined> =>
    (await tried.ask(weakerThan(grid, code))).find((one) => !refused.has(one) && leads(one));
  for (;;) {
    let last = from;
    for (let next = await oneLess(from); next !== undefined; next = await oneLess(next)) last = next;
    if (await askInTurn(tried, neighboursOf(grid, last.code), () => !leads(last))) return last;
    if (last === from || !leads(from)) return null;
    refused.add(last);
  }
}
