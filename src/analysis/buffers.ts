/** What results call a machine's infeed buffer. */
import type { Network } from "../network/network.ts";

/** Names a buffer by its machine's id, with the item after a dot where the machine takes several kinds. */
export function bufferNames({ machines }: Network): (machine: string, item: string) => string {
  const severalKinds = new Set(machines.filter(({ takes }) => takes.length > 1).map(({ id }) => id));
  return (machine, item) => (severalKinds.has(machine) ? `${machine}.${item}` : machine);
}
