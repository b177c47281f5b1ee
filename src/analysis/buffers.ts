import type { Network } from "../network/network.ts";

/** A machine's infeed buffer: the machine's id, with the item after a dot where it takes several kinds. */
export function bufferName({ machines }: Network, machine: string, item: string): string {
  const takes = machines.find(({ id }) => id === machine)?.takes ?? [];
  return takes.length > 1 ? `${machine}.${item}` : machine;
}

/** Infeed buffers with their index among all buffers, outfeeds counted. */
export function infeedBuffers({ machines }: Network) {
  let next = 0;
  return machines.flatMap(({ id, infeed, makes }) => {
    const first = next;
    next += infeed.length + makes.length;
    return infeed.map(({ item, count }, i) => ({ buffer: first + i, machine: id, item, capacity: count }));
  });
}
