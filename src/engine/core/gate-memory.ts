/** Where gates of feeds lie, how often chance has stopped what, how far limits are broken, and peaks: beside memory.ts, in the same memory. */
import { Bytes, Ints, Sums } from "./arrays";

/** By feed: whether its gaps are drawn, items that wait at its gate, and the most that ever did. */
declare const isGatedAt: usize;
export const isGated = changetype<Ints>(isGatedAt);
declare const atGateAt: usize;
export const atGate = changetype<Ints>(atGateAt);
declare const mostAtGateAt: usize;
export const mostAtGate = changetype<Ints>(mostAtGateAt);
/** Their sum over ticks. */
declare const gateTicksAt: usize;
export const gateTicks = changetype<Sums>(gateTicksAt);
/** By feed: whether its vehicles keep their schedule, and for how long the line held it up since one has been waiting. */
declare const keepsVehiclesAt: usize;
export const keepsVehicles = changetype<Ints>(keepsVehiclesAt);
declare const vehicleHeldTicksAt: usize;
export const vehicleHeldTicks = changetype<Ints>(vehicleHeldTicksAt);

/** How many there were, by machine, and outages by feed. */
declare const breakdownsAt: usize;
export const breakdowns = changetype<Ints>(breakdownsAt);
declare const microStopsAt: usize;
export const microStops = changetype<Ints>(microStopsAt);
declare const outagesAt: usize;
export const outages = changetype<Ints>(outagesAt);

/** Of each stream of draws: where its uniform numbers stand, four words. */
declare const aleaAt: usize;
export const alea = changetype<Ints>(aleaAt);
/** Items times ticks beyond limits, by limit on hold-up and by kind for dwell. */
declare const overLimitItemTicksAt: usize;
export const overLimitItemTicks = changetype<Sums>(overLimitItemTicksAt);
declare const overDwellTicksAt: usize;
export const overDwellTicks = changetype<Sums>(overDwellTicksAt);

/** By buffer: of which kind at which group it is. By such group: how many lie there. */
declare const bufferGroupAt: usize;
export const bufferGroup = changetype<Ints>(bufferGroupAt);
declare const groupCountAt: usize;
export const groupCount = changetype<Ints>(groupCountAt);
/** By hold-up place (peaks.ts): the most so far; whether there may be more now, and a list of those. */
declare const placePeakAt: usize;
export const placePeak = changetype<Ints>(placePeakAt);
declare const isRisenAt: usize;
export const isRisen = changetype<Bytes>(isRisenAt);
declare const risenAt: usize;
export const risen = changetype<Ints>(risenAt);
declare const risenCountAt: usize;
export const risenCount = changetype<Ints>(risenCountAt);
