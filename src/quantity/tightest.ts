/** The belts with the least headroom in the long run; one that cuts its rate out of a flow is to have none. */
import { approximateText } from "./approximate.ts";

/** As results tell of them. */
interface Belt {
  readonly id: string;
  readonly rate_per_min: string;
  readonly at_most_per_min?: string;
  readonly measured_per_min?: number;
  readonly headroom_per_min: string | null;
}

export interface Tight<B> {
  readonly belt: B;
  readonly headroomPerMin: number;
}

/** All that have it, in the file's order; none where no belt's headroom is known. */
export function tightestBelts<B extends Belt>(
  belts: readonly B[],
  cuts: readonly { readonly belt: string }[],
): Tight<B>[] {
  const cutting = new Set(cuts.map(({ belt }) => belt));
  const known = belts.flatMap((belt): Tight<B>[] => {
    const headroomPerMin = headroomOf(belt);
    return headroomPerMin === null || cutting.has(belt.id) ? [] : [{ belt, headroomPerMin }];
  });
  const least = Math.min(...known.map((one) => one.headroomPerMin));
  return known.filter((one) => one.headroomPerMin - least < 1e-6 * Math.max(1, least));
}

function headroomOf(belt: Belt): number | null {
  const { headroom_per_min: exact, at_most_per_min: most = belt.rate_per_min, measured_per_min: measured } = belt;
  if (exact !== null) return approximateText(exact);
  return measured === undefined ? null : Math.max(0, approximateText(most) - measured);
}
