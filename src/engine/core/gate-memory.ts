/** Where gates of feeds lie, and how often chance has stopped what: beside memory.ts, in the same memory. */
import { Ints, Sums } from "./arrays";

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
