/** What the floor grants, as its entry in a scenario file. */
import { formatDuration, formatPercentage, formatRate } from "../quantity/units.ts";
import { type Means, PLAIN_MEANS } from "./means.ts";

export function meansKey(means: Means) {
  const { hands, levels, branches, feed, secondFeed, dividers } = means;
  const stated = {
    ...(hands && { hands: { items: hands.items, rate: formatRate(hands.ratePerMin), while: hands.while } }),
    ...(levels && { levels: "movable" }),
    ...(branches && { branches: "variable" }),
    ...(startWord(means) !== startWord(PLAIN_MEANS) && { start: startWord(means) }),
    ...(feed && { feed: { to: formatPercentage(feed.factor), for: formatDuration(feed.forMin) } }),
    ...(secondFeed !== null && { "second-feed": { at: secondFeed } }),
    ...(dividers && { dividers: "switched" }),
  };
  return Object.keys(stated).length === 0 ? {} : { means: stated };
}

function startWord({ starts: { held, staggered } }: Means): string {
  if (held) return staggered ? "either" : "held";
  return staggered ? "staggered" : "together";
}
