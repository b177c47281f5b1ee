/** All comparisons, in the order of the table. */
import { pairStudies } from "./bernoulli.ts";
import { feedStudies, gateStudies } from "./feeds.ts";
import { lineStudies, longLineStudies } from "./lines.ts";
import { finiteQueueStudies, waitStudies } from "./queues.ts";
import type { Study } from "./study.ts";
import { transientStudies } from "./transients.ts";
import { flowStudies, geometricStudies } from "./unreliable.ts";

export function allStudies(): Study[] {
  return [
    ...pairStudies(),
    ...transientStudies(),
    ...lineStudies(),
    ...longLineStudies(),
    ...geometricStudies(),
    ...flowStudies(),
    ...finiteQueueStudies(),
    ...waitStudies(),
    ...feedStudies(),
    ...gateStudies(),
  ];
}
