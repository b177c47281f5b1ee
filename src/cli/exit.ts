/** Exit statuses besides 0. */
export const FAILED = 1;
export const REFUSED = 2;

/** The request or the scenario is wrong; the message is for the user, and nothing was written. */
export class RefusedError extends Error {}
