/** Numbers that stand for what a program says, for the compiler and for the engine, its core included. */

/** Kinds of element in the sweep and at a connection's end. */
export const FEED = 0;
export const DIVIDER = 1;
export const MERGE = 2;
export const MACHINE = 3;
export const OUTLET = 4;

/** Rules of a divider: the first outlet that can, turns, the last outlet that can. */
export const ORDERED = 0;
export const EVEN = 1;
export const LAST_FIRST = 2;
