/** What machines, dividers, merges and belts take up on the floor. */
import { ONE, ratio, whole } from "../quantity/rational.ts";
import type { Floor, Footprint } from "./scenario.ts";
import type { RawFootprint, RawScenario } from "./shapes.ts";

/** Common sense for packing machines and their conveyors, no source: a file that is to be trusted states its own. */
export const DEFAULT_FLOOR: Floor = {
  machine: { lengthM: whole(3), widthM: whole(2) },
  divider: { lengthM: ONE, widthM: ONE },
  merge: { lengthM: ONE, widthM: ONE },
  beltM: ratio(4n, 5n),
  aisleM: ONE,
  lengths: "from-grid",
};

export function readFloor({ floor = {} }: RawScenario): Floor {
  return {
    machine: footprintOf(floor.machine, DEFAULT_FLOOR.machine),
    divider: footprintOf(floor.divider, DEFAULT_FLOOR.divider),
    merge: footprintOf(floor.merge, DEFAULT_FLOOR.merge),
    beltM: floor.belt ?? DEFAULT_FLOOR.beltM,
    aisleM: floor.aisle ?? DEFAULT_FLOOR.aisleM,
    lengths: floor.lengths ?? DEFAULT_FLOOR.lengths,
  };
}

export function footprintOf(stated: RawFootprint | undefined, otherwise: Footprint): Footprint {
  return { lengthM: stated?.length ?? otherwise.lengthM, widthM: stated?.width ?? otherwise.widthM };
}

export function isSameFootprint(a: Footprint, b: Footprint): boolean {
  return a.lengthM.equals(b.lengthM) && a.widthM.equals(b.widthM);
}
