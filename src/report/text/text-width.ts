/**
 * How much room text takes, and cutting, wrapping and padding to it: in columns of a terminal unless another measure of
 * single characters is handed in.
 */

export type Measure = (grapheme: string) => number;

/** Text of these alone, Latin letters, punctuation, arrows and signs, has a character for each grapheme. */
const PLAIN = /^[\u0020-\u007e\u00a0-\u00ac\u00ae-\u02ff\u2010-\u2027\u2030-\u205e\u2190-\u22ff]*$/;

/** Made only when asked for, since it takes longer than all else at the start of the program. */
let segmenter: Intl.Segmenter | null = null;

function graphemes(text: string): string[] {
  if (PLAIN.test(text)) return text.split("");
  segmenter ??= new Intl.Segmenter("en", { granularity: "grapheme" });
  return Array.from(segmenter.segment(text), ({ segment }) => segment);
}

/** Wide by UAX #11, East Asian Width (the blocks W and F), and pictographs. */
const WIDE =
  /^[\u1100-\u115f\u2e80-\u303e\u3041-\u33ff\u3400-\u4dbf\u4e00-\u9fff\ua000-\ua4cf\uac00-\ud7a3\uf900-\ufaff\ufe30-\ufe6f\uff00-\uff60\uffe0-\uffe6]|^\p{Emoji_Presentation}|^[\u{20000}-\u{3fffd}]/u;
const ZERO_WIDTH = /^[\p{Mn}\p{Me}\p{Cf}\p{Cc}]+$/u;

export function columnsOf(grapheme: string): number {
  if (ZERO_WIDTH.test(grapheme)) return 0;
  return WIDE.test(grapheme) ? 2 : 1;
}

export function textWidth(text: string, measure: Measure = columnsOf): number {
  let width = 0;
  for (const grapheme of graphemes(text)) width += measure(grapheme);
  return width;
}

/** As much of the text's beginning as fits. */
function head(text: string, width: number, measure: Measure): string {
  let taken = "";
  let room = width;
  for (const grapheme of graphemes(text)) {
    room -= measure(grapheme);
    if (room < 0) break;
    taken += grapheme;
  }
  return taken;
}

function tail(text: string, width: number, measure: Measure): string {
  let taken = "";
  let room = width;
  for (const grapheme of graphemes(text).reverse()) {
    room -= measure(grapheme);
    if (room < 0) break;
    taken = grapheme + taken;
  }
  return taken;
}

const ELLIPSIS = "…";

/** Cut in the middle, since names of machines differ at their ends: "palletis…hall-12". */
export function shorten(text: string, width: number, measure: Measure = columnsOf): string {
  if (textWidth(text, measure) <= width) return text;
  const room = Math.max(0, width - measure(ELLIPSIS));
  const end = tail(text, Math.ceil(room / 2), measure);
  return `${head(text, room - textWidth(end, measure), measure)}${ELLIPSIS}${end}`;
}

export function padEnd(text: string, columns: number): string {
  return text + " ".repeat(Math.max(0, columns - textWidth(text)));
}

export function padStart(text: string, columns: number): string {
  return " ".repeat(Math.max(0, columns - textWidth(text))) + text;
}

/** Lines no wider than `width`, broken at ordinary spaces; a longer word is cut. */
export function wrap(text: string, width: number, measure: Measure = columnsOf): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(/[ \t\r\n]+/).filter((part) => part !== "")) {
    const longer = line === "" ? word : `${line} ${word}`;
    if (textWidth(longer, measure) <= width) {
      line = longer;
      continue;
    }
    if (line !== "") lines.push(line);
    line = word;
    while (textWidth(line, measure) > width) {
      const part = head(line, width, measure);
      if (part === "") break;
      lines.push(part);
      line = line.slice(part.length);
    }
  }
  if (line !== "") lines.push(line);
  return lines;
}

/** `wrap`, but at most `most` lines, the last one ending in "…" where text was left off. */
export function wrapAtMost(text: string, width: number, most: number, measure: Measure = columnsOf): string[] {
  const lines = wrap(text, width, measure);
  if (lines.length <= most) return lines;
  const kept = lines.slice(0, most);
  const last = kept.pop() ?? "";
  return [...kept, `${head(last, width - measure(ELLIPSIS), measure)}${ELLIPSIS}`];
}

/** One line: control characters and line breaks become spaces. */
export function oneLine(text: string): string {
  return text.replace(/[\p{Cc}\u2028\u2029]+/gu, " ").trim();
}
