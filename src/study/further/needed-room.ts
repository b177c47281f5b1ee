/**
 * The room that a surge buffer needs where unloading was held up: found by runs with more and more of it, and tried with
 * just that much, since a settled cycle with room to spare need not be the one that the line comes to without.
 */
import { batchResults } from "../../analysis/batch-feeds.ts";
import { longRunOf } from "../../analysis/long-run.ts";
import type { BatchResult } from "../../analysis/plant-results.ts";
import type { Result } from "../../analysis/result.ts";
import { simulate } from "../../engine/simulate.ts";
import { prepare } from "../../network/prepare.ts";
import { MAX_BUFFER_ITEMS } from "../../scenario/file-limits.ts";
import type { Scenario } from "../../scenario/scenario.ts";

/** Each is a run as long as the first. */
const MOST_RUNS = 16;

/** With the room needed wherever a run held unloading up, but for feeds that bring more than the line takes. */
export function withNeededRooms(result: Result, scenario: Scenario): Result {
  const batches = result.batches.map((batch) => {
    const isAsked = isHeldUp(batch) && batch.needed_room === null && batch.brings_too_much === false;
    return isAsked ? { ...batch, needed_room: neededRoom(scenario, batch) } : batch;
  });
  return { ...result, batches };
}

function isHeldUp({ cycle }: BatchResult): boolean {
  return cycle !== null && cycle.held_up_min > 0;
}

/** `null`: none was found. */
function neededRoom(scenario: Scenario, { feed, vehicles, surge }: BatchResult): number | null {
  let runs = 0;
  /** What lies there at most once settled; `null` where unloading is still held up, or that is not known. */
  const highest = (room: number): number | null => {
    runs++;
    const batch = withRoom(scenario, feed, room);
    return batch === null || batch.cycle === null || isHeldUp(batch) ? null : (batch.surge?.settled_high ?? null);
  };
  let tooLittle = surge?.room ?? 0;
  let enough: number | null = null;
  let guess = 0;
  let room = Math.max(1, 2 * tooLittle, vehicles?.items ?? 0);
  while (runs < MOST_RUNS && room <= MAX_BUFFER_ITEMS && (enough === null || enough - tooLittle > 1)) {
    const found = highest(room);
    if (found === room) return room;
    if (found === null) tooLittle = room;
    else [enough, guess] = [room, found];
    if (enough === null) room *= 2;
    else room = guess > tooLittle && guess < enough ? guess : Math.floor((tooLittle + enough) / 2);
  }
  return enough;
}

function withRoom(scenario: Scenario, feed: string, surge: number): BatchResult | null {
  const feeds = scenario.feeds.map((one) => (one.id === feed ? { ...one, surge } : one));
  const prepared = prepare({ ...scenario, feeds });
  if (!prepared.ok) return null;
  const run = simulate(prepared.program, { horizonTicks: prepared.horizonTicks, seed: scenario.seed });
  return batchResults(run, longRunOf(run, null)).find((batch) => batch.feed === feed) ?? null;
}
