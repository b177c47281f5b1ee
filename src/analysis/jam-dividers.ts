/** The dividers that bring a jammed kind to where it stands. */
import type { Network } from "../network/network.ts";
import type { Jam, Mix } from "./plant-results.ts";
import { reaching, takesKind } from "./reaching.ts";
import type { Ways } from "./ways.ts";

const MOST_DIVIDERS = 20;

/** Of lines that carry several kinds. */
export function withDividers(jams: readonly Jam[], mixes: readonly Mix[], network: Network, ways: Ways): Jam[] {
  const mixed = new Set(mixes.map(({ line }) => line));
  return jams.map((jam) => (mixed.has(jam.line) ? { ...jam, dividers: dividersOf(jam, network, ways) } : jam));
}

function dividersOf(
  { line, item, is_full: isFull }: Jam,
  { connections, dividers }: Network,
  ways: Ways,
): Jam["dividers"] {
  const own = connections.filter((connection) => connection.line === line && ways.carries(connection, item));
  const goods = reaching(own, (node) => takesKind(ways, node, item));
  const parting = dividers.filter((divider) => divider.line === line && ways.outOf(divider.id, item).length > 1);
  const astray = parting.filter(({ id }) => {
    const isGood = ways.outOf(id, item).map(({ to }) => goods.has(to));
    return isGood.includes(true) && isGood.includes(false);
  });
  const named = isFull || astray.length === 0 ? parting : astray;
  return named.slice(0, MOST_DIVIDERS).map(({ id, rule }) => ({ divider: id, takes_turns: rule === "even" }));
}
