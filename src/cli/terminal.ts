/** Where output goes and how it looks there, settled once: results to standard output, all else to standard error. */
import { PLAIN_STYLE, type Style } from "../index.ts";

export interface Terminal {
  /** For results. */
  readonly style: Style;
  /** Done when the text is written; a reader that has heard enough (`| head -1`) is no failure. */
  readonly print: (text: string) => Promise<void>;
  readonly printJson: (value: unknown) => Promise<void>;
  /** For messages, a line each. */
  readonly tell: (text: string) => void;
  readonly complain: (text: string) => void;
  /** Says what is being done where someone watches; `null` takes it away. */
  readonly progress: (text: string | null) => void;
}

/** What a process has for output. */
export interface Surroundings {
  readonly stdout: Output;
  readonly stderr: Output;
  readonly env: NodeJS.ProcessEnv;
}

type Output = NodeJS.WritableStream & { readonly isTTY?: boolean };

/** Select Graphic Rendition of ECMA-48: bold, faint and colours of the terminal's own choice. */
const sgr =
  (on: number, off: number) =>
  (text: string): string =>
    `\u001b[${on}m${text}\u001b[${off}m`;
const COLOURED: Style = { title: sgr(1, 22), heading: sgr(2, 22), warning: sgr(33, 39) };
const red = sgr(31, 39);

export function terminalOf({ stdout, stderr, env }: Surroundings): Terminal {
  const mayColour = !env.NO_COLOR && env.TERM !== "dumb";
  const watched = stderr.isTTY && env.TERM !== "dumb";
  let shown = "";

  // A failed write is reported to whoever waits for it; without these, Node would end the program besides.
  stdout.on("error", () => undefined);
  stderr.on("error", () => undefined);

  const progress = (text: string | null): void => {
    if (!watched || (text ?? "") === shown) return;
    stderr.write(`\r${(text ?? "").padEnd(shown.length)}${text === null ? "\r" : ""}`);
    shown = text ?? "";
  };
  const tell = (text: string): void => {
    progress(null);
    stderr.write(`${text}\n`);
  };
  const print = (text: string): Promise<void> => {
    progress(null);
    return new Promise((resolve, reject) => {
      stdout.write(text, (error) => {
        if (!error || ("code" in error && error.code === "EPIPE")) resolve();
        else reject(new Error(`cannot write to standard output: ${error.message}`, { cause: error }));
      });
    });
  };
  return {
    style: mayColour && stdout.isTTY ? COLOURED : PLAIN_STYLE,
    print,
    printJson: (value) => print(`${JSON.stringify(value, null, 2)}\n`),
    tell: (text) => tell(visible(text)),
    complain: (text) => tell(mayColour && stderr.isTTY ? red(visible(text)) : visible(text)),
    progress,
  };
}

const BAR_WIDTH = 24;

/** "█████░░░░░ 12 of 25". */
export function progressBar(done: number, of: number): string {
  const full = of === 0 ? BAR_WIDTH : Math.floor((done / of) * BAR_WIDTH);
  return `${"█".repeat(full)}${"░".repeat(BAR_WIDTH - full)} ${done} of ${of}`;
}

/** Names of files and values out of them may hold characters that command a terminal. */
function visible(text: string): string {
  return text.replace(/\p{Cc}/gu, (character) => (character === "\n" ? character : "\ufffd"));
}
