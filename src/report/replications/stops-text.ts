/** Stops that the file states, by name, and how many of them were seen. */
import type { StopCount } from "../../analysis/chance-results.ts";
import { listed, number } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";

const ONE = { breakdowns: "breakdown", "micro-stops": "short stop", outages: "outage" } as const;
const SEVERAL = { breakdowns: "breakdowns", "micro-stops": "short stops", outages: "outages" } as const;

/** "breakdowns of press". */
export function stopName({ what, of }: Pick<StopCount, "what" | "of">): string {
  return `${SEVERAL[what]} of ${oneLine(of)}`;
}

/** "2 breakdowns of press were seen in 10 replications", of the kinds that are too rare. */
export function seenSoFar(stops: readonly StopCount[], runs: number): string {
  const rare = stops.filter(({ enough }) => !enough);
  const each = rare.map((stop) => {
    const name = stop.seen === 1 ? `${ONE[stop.what]} of ${oneLine(stop.of)}` : stopName(stop);
    return `${stop.seen === 0 ? "no" : number(stop.seen)} ${stop.seen === 0 ? `${ONE[stop.what]} of ${oneLine(stop.of)}` : name}`;
  });
  const were = rare.length === 1 && (rare[0]?.seen ?? 0) <= 1 ? "was" : "were";
  return `${listed(each)} ${were} seen in ${runs === 1 ? "this run" : `${number(runs)} replications`}`;
}

/** "about 130 replications of this length, or 13 times the horizon"; `null` where there are enough. */
export function stopsWanted(stops: readonly StopCount[], runs: number): string | null {
  const wanted = stops.flatMap(({ replications_needed: needed }) => needed ?? []);
  if (wanted.length === 0) return null;
  const most = Number(Math.max(runs + 1, ...wanted).toPrecision(2));
  const longer = `a horizon about ${number(Math.max(2, Math.ceil(most / runs)))} times as long`;
  return `about ${number(most)} replications, or ${longer}`;
}
