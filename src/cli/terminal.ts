/** Where output goes and how it looks there, settled once: results to standard output, all else to standard error. */
import { styleText } from "node:util";
import { PLAIN_STYLE, type Style } from "../index.ts";

export interface Terminal {
  /** For results. */
  readonly style: Style;
  readonly print: (text: string) => void;
  /** For messages, a line each. */
  readonly tell: (text: string) => void;
  readonly complain: (text: string) => void;
  /** Shows how far something is where someone watches; `null` takes it away. */
  readonly progress: (share: number | null) => void;
}

const COLOURED: Style = {
  title: (text) => styleText("bold", text),
  heading: (text) => styleText("dim", text),
  warning: (text) => styleText("yellow", text),
};

export function terminalOf({ stdout, stderr, env }: NodeJS.Process): Terminal {
  const mayColour = !env.NO_COLOR && env.TERM !== "dumb";
  const watched = stderr.isTTY && env.TERM !== "dumb";
  let shown = "";
  const progress = (share: number | null): void => {
    if (!watched) return;
    const text = share === null ? "" : `simulating ${Math.floor(share * 100)} %`;
    if (text === shown) return;
    stderr.write(`\r${text.padEnd(shown.length)}${text === "" ? "\r" : ""}`);
    shown = text;
  };
  const tell = (text: string): void => {
    progress(null);
    stderr.write(`${text}\n`);
  };
  return {
    style: mayColour && stdout.isTTY ? COLOURED : PLAIN_STYLE,
    print: (text) => {
      progress(null);
      stdout.write(text);
    },
    tell,
    complain: (text) => tell(mayColour && stderr.isTTY ? styleText("red", text) : text),
    progress,
  };
}
