/** How lines are set off on a terminal. */

/** How parts are set off, settled once by the caller from terminal and environment. */
export interface Style {
  readonly title: (text: string) => string;
  readonly heading: (text: string) => string;
  readonly warning: (text: string) => string;
}

export const PLAIN_STYLE: Style = { title: (text) => text, heading: (text) => text, warning: (text) => text };
