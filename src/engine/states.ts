/** States of a machine, as indices into `Totals.stateTicks`; for the host and the core. */
export const RUNNING = 0;
export const STARVED = 1;
export const BLOCKED = 2;
export const DOWN = 3;
export const HELD = 4;
export const STATE_COUNT = 5;
