/** What keeps a plant's parts from running faster. */
import type { Network } from "../../src/network/network.ts";
import { ONE, sum, ZERO } from "../../src/quantity/rational.ts";
import type { Plant } from "./random-plants.ts";
import type { Settled } from "./settled.ts";

/** Kinds that have to do with one another, by what is made of what. */
export function familiesOf({ groups, lines }: Plant): string[][] {
  const families: string[][] = lines.flatMap(({ kinds }) => kinds.map((kind) => [kind]));
  for (const { takes, makes } of groups) {
    const here = [...Object.keys(takes), ...Object.keys(makes)];
    const joined = families.filter((family) => family.some((kind) => here.includes(kind)));
    for (const one of joined) families.splice(families.indexOf(one), 1);
    families.push(joined.flat());
  }
  return families;
}

/**
 * For each family of kinds, what runs at its limit in the long run: raw kinds of which everything is taken, groups whose
 * machines all run without a pause, and belts at their rate.
 */
export function bottlenecksOf(plant: Plant, network: Network, settled: Settled): string[][] {
  return familiesOf(plant).map((family) => {
    const kinds = family.filter((kind) => {
      const feeds = network.feeds.filter(({ items }) => items.some(({ item }) => item === kind));
      return (
        feeds.length > 0 &&
        feeds.every(({ id, profile }) => settled.fed.get(id)?.equals(profile.at(-1)?.ratePerMin ?? ZERO))
      );
    });
    const groups = plant.groups.flatMap(({ makes, machines }, g) => {
      const shares = machines.map((_, m) => settled.running.get(`m${g + 1}.${m + 1}`) ?? ZERO);
      const isFull = sum(shares).equals(ONE.mul(BigInt(machines.length)));
      return isFull && family.some((kind) => kind in makes) ? [`group ${g + 1}`] : [];
    });
    const belts = network.connections.filter(
      ({ id, only, belt }) =>
        belt && only?.some((k) => family.includes(k)) && settled.passed.get(id)?.equals(belt.ratePerMin),
    );
    return [...kinds, ...groups, ...belts.map(({ id }) => id)];
  });
}
