/** Where output goes and how it looks there, settled once: results to standard output, all else to standard error. */
import { PLAIN_STYLE, printable, type Style } from "../index.ts";
import { refuseFullHeap } from "./heap.ts";

export interface Terminal {
  /** For results. */
  readonly style: Style;
  /** Whether results are told with all that stands behind the answer. */
  readonly details: boolean;
  /** Done when the text is written; a reader that has heard enough (`| head -1`) is no failure. */
  readonly print: (text: string) => Promise<void>;
  readonly printJson: (value: unknown) => Promise<void>;
  /** For messages, a line each. */
  readonly tell: (text: string) => void;
  readonly complain: (text: string) => void;
  /** Says what is being done where someone watches; `null` takes it away. */
  readonly progress: (text: string | null) => void;
}

/** As a command's options --quiet (the answer and errors only) and --details have it. */
export function asAsked(loud: Terminal, options: object): Terminal {
  const terminal = { ...loud, details: "details" in options && options.details === true };
  const isQuiet = "quiet" in options && options.quiet === true;
  return isQuiet ? { ...terminal, tell: () => undefined, progress: refuseFullHeap } : terminal;
}

/** What a process has for output. */
export interface Surroundings {
  readonly stdout: Output;
  readonly stderr: Output;
  readonly env: NodeJS.ProcessEnv;
}

type Output = NodeJS.WritableStream & { readonly isTTY?: boolean };

/** Stands for ESC in our own sequences until text is printed; no file can know it, so that what files hold is told apart. */
const OWN_ESCAPE = `<${process.pid}:${process.hrtime.bigint()}>`;

/** Select Graphic Rendition of ECMA-48: bold, faint and colours of the terminal's own choice. */
const sgr =
  (on: number, off: number) =>
  (text: string): string =>
    `${OWN_ESCAPE}[${on}m${text}${OWN_ESCAPE}[${off}m`;
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
    if (text !== null) refuseFullHeap();
    if (!watched || (text ?? "") === shown) return;
    stderr.write(`\r${safe(text ?? "").padEnd(shown.length)}${text === null ? "\r" : ""}`);
    shown = text ?? "";
  };
  const tell = (text: string): void => {
    progress(null);
    stderr.write(safe(`${text}\n`));
  };
  const print = (text: string): Promise<void> => {
    progress(null);
    return new Promise((resolve, reject) => {
      stdout.write(safe(text), (error) => {
        if (!error || ("code" in error && error.code === "EPIPE")) resolve();
        else reject(new Error(`cannot write to standard output: ${error.message}`, { cause: error }));
      });
    });
  };
  return {
    details: false,
    style: mayColour && stdout.isTTY ? COLOURED : PLAIN_STYLE,
    print,
    printJson: (value) => print(`${printable(JSON.stringify(value, null, 2), escaped)}\n`),
    tell,
    complain: (text) => tell(mayColour && stderr.isTTY ? red(text) : text),
    progress,
  };
}

const BAR_WIDTH = 24;

/** "█████░░░░░ 12 of 25". */
export function progressBar(done: number, of: number): string {
  const full = of === 0 ? BAR_WIDTH : Math.floor((done / of) * BAR_WIDTH);
  return `${"█".repeat(full)}${"░".repeat(BAR_WIDTH - full)} ${done} of ${of}`;
}

/** Names of files and values out of them may hold characters that command a terminal; only our own sequences may. */
function safe(text: string): string {
  return printable(text).replaceAll(OWN_ESCAPE, "\u001b");
}

/** As JSON writes a character that it must not hold; it reads back as the same. */
function escaped(character: string): string {
  return `\\u${character.charCodeAt(0).toString(16).padStart(4, "0")}`;
}
