/** Whether the exact flows of a plant are short enough to be worked out: all they are made of is known before. */
import type { Network } from "../../network/network.ts";
import { gcd } from "../../quantity/gcd.ts";

/** Connections times the square of the binary digits that cycles and rates need together: some seconds. */
const MOST_EFFORT = 1e11;

/** @returns what to shorten, if flows would be fractions of many thousands of digits; else `null` */
export function tooLong({ machines, connections, feeds }: Network): string | null {
  const parts = [
    ...machines.map(({ id, cycleMin }) => ({ id, part: cycleMin.n })),
    ...connections.map(({ id, belt }) => ({ id, part: belt?.ratePerMin.d ?? 1n })),
    ...feeds.flatMap(({ id, profile }) => profile.map(({ ratePerMin }) => ({ id, part: ratePerMin.d }))),
  ];
  let common = 1n;
  for (const { part } of parts) common *= part / gcd(common, part);
  const digits = common.toString(16).length * 4;
  if (connections.length * digits ** 2 <= MOST_EFFORT) return null;
  const longest = parts.reduce((most, one) => (one.part > most.part ? one : most));
  return `cycles and rates, of which that of ${longest.id} has most digits, need fractions of ${Math.round((digits * Math.log10(2)) / 100) * 100} digits together; with values of two or three decimals, such as 2.35 s, they would stay short`;
}
