/** What text may not hold that is shown somewhere: what commands a terminal or turns the direction of writing round. */

const COMMANDING = /[\p{Cc}\p{Cs}\p{Zl}\p{Zp}\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/u;
const EVERY = new RegExp(COMMANDING, "gu");

export function isPrintable(text: string): boolean {
  return !COMMANDING.test(text);
}

/** All else as it is, and line breaks as well. */
export function printable(text: string, shown: (character: string) => string = () => "\ufffd"): string {
  return text.replace(EVERY, (character) => (character === "\n" ? character : shown(character)));
}
