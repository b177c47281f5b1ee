/** Whether a run under chance made nothing any more at its end, since when, and what stands at the heads of its belts. */
import type { Run } from "../engine/simulate.ts";
import { inMinutes } from "../network/tick.ts";
import { approximate } from "../quantity/rational.ts";
import type { StoppedRun } from "./chance-results.ts";
import type { Events } from "./events.ts";

/** So many times the usual gap between two products, and so much of the horizon, without any is a standstill. */
const GAPS = 50;
const SHARE_OF_HORIZON = 0.05;
/** As many belts are named. */
const MOST_NAMED = 3;

/** @param events what was made, up to the horizon */
export function stoppedRun({ program, horizonTicks, heads }: Run, { count, tick }: Events): StoppedRun | null {
  const last = count === 0 ? 0 : (tick[count - 1] ?? 0);
  const usual = count === 0 ? horizonTicks / GAPS : last / count;
  const { network, belt } = program;
  const stands = network.connections
    .filter((connection) => connection.belt !== null)
    .map(({ id }, b) => ({ id, b, item: heads.item[b] ?? -1, ready: heads.readyTick[b] ?? -1 }))
    .filter(({ b, item, ready }) => b < belt.count && item >= 0 && ready >= 0 && ready <= last)
    .toSorted((one, other) => one.ready - other.ready);
  const gap = horizonTicks - last;
  if (gap < GAPS * usual || gap < SHARE_OF_HORIZON * horizonTicks || (count === 0 && stands.length === 0)) return null;
  return {
    since_min: approximate(inMinutes(last, program.tickS)),
    stands: stands.slice(0, MOST_NAMED).map(({ id, item }) => ({ belt: id, item: network.items[item] ?? "" })),
  };
}
