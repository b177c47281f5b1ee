/** The layouts, and what a chain's far end may do beside leading to an outlet, as the file names them. */
export const LAYOUTS = ["chain", "tree", "loop", "lanes", "custom"] as const;
export type Layout = (typeof LAYOUTS)[number];

export const CHAIN_ENDS = ["stop", "return"] as const;
