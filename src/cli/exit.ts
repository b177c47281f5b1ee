import type { Finding } from "../index.ts";

/** Exit statuses besides 0. */
export const FAILED = 1;
export const REFUSED = 2;

/** What is wrong with a file, for programs to read. */
export interface Refused {
  readonly file: string;
  readonly findings: readonly Finding[];
}

/** The request or the scenario is wrong; the message is for the user, and nothing was written. */
export class RefusedError extends Error {
  readonly refused: Refused | null;

  constructor(message: string, refused: Refused | null = null) {
    super(message);
    this.refused = refused;
  }
}
