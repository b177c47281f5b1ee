/** What results call a machine's infeed buffer. */
import type { Network } from "../network/network.ts";
import type { BufferName } from "./flow/flow.ts";

/** Names a buffer by its machine's id, with the item after a dot where the machine takes several kinds. */
export function bufferNames({ machines }: Network): (machine: string, item: string) => string {
  const severalKinds = new Set(machines.filter(({ takes }) => takes.length > 1).map(({ id }) => id));
  return (machine, item) => (severalKinds.has(machine) ? `${machine}.${item}` : machine);
}

/** Names infeed buffers like `bufferNames`; an outfeed and a feed's surge buffer after a dot, which no id has. */
export function flowBufferNames(network: Network): (buffer: BufferName) => string {
  const infeedName = bufferNames(network);
  const severalProducts = new Set(network.machines.filter(({ makes }) => makes.length > 1).map(({ id }) => id));
  return ({ machine, item, side }) => {
    if (side === "infeed") return infeedName(machine, item);
    return side === "outfeed" && severalProducts.has(machine) ? `${machine}.outfeed.${item}` : `${machine}.${side}`;
  };
}
