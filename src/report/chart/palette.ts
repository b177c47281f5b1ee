/**
 * Colours of every picture. Lines and states: the colour-blind-safe set of M. Okabe and K. Ito, "Color Universal
 * Design" (2002, revised 2008). Levels: the sequential scheme YlGnBu of C. Brewer's ColorBrewer, pale to dark, which
 * stays in order in grey and for every common colour vision.
 */

export const INK = "#1a1a1a";
export const INK_SOFT = "#555555";
export const GRID = "#dddddd";
export const PAPER = "#ffffff";

export const ORANGE = "#e69f00";
const SKY_BLUE = "#56b4e9";
const BLUISH_GREEN = "#009e73";
export const BLUE = "#0072b2";
const VERMILLION = "#d55e00";
const REDDISH_PURPLE = "#cc79a7";
const BLACK = "#000000";

export const ACCENT = BLUE;
export const ALERT = VERMILLION;
export const CALM = BLUISH_GREEN;

export interface LineStyle {
  readonly colour: string;
  readonly dash: readonly number[];
  readonly marker: "circle" | "rect" | "triangle" | "rectRot" | "cross" | "star" | "crossRot" | "dash";
}

/** Told apart by dash and marker as well as by colour. */
export const LINE_STYLES: readonly LineStyle[] = [
  { colour: BLUE, dash: [], marker: "circle" },
  { colour: VERMILLION, dash: [14, 5], marker: "rect" },
  { colour: BLUISH_GREEN, dash: [4, 4], marker: "triangle" },
  { colour: BLACK, dash: [], marker: "rectRot" },
  { colour: REDDISH_PURPLE, dash: [14, 5, 3, 5], marker: "cross" },
  { colour: ORANGE, dash: [], marker: "rect" },
  { colour: SKY_BLUE, dash: [8, 4], marker: "triangle" },
  { colour: "#7a7a7a", dash: [3, 3], marker: "circle" },
];

export function lineStyle(index: number): LineStyle {
  return styleOf(LINE_STYLES, index);
}

/** Never the same twice among the first few dozen: once all are used, colours come again with other dashes and marks. */
export function styleOf(styles: readonly LineStyle[], index: number): LineStyle {
  const round = Math.floor(index / styles.length);
  const at = (shift: number): LineStyle | undefined => styles[(index + shift) % styles.length];
  const [own, dashed, marked] = [at(0), at(round), at(2 * round)];
  if (own === undefined || dashed === undefined || marked === undefined) throw new RangeError("no line styles");
  return { ...own, dash: dashed.dash, marker: marked.marker };
}

export const STATES = ["running", "starved", "blocked", "down", "held"] as const;
export type State = (typeof STATES)[number];

export type Hatch = "none" | "rising" | "falling" | "crossed" | "level";

export interface Fill {
  readonly colour: string;
  readonly hatch: Hatch;
  readonly hatchColour: string;
}

/** Told apart by lightness and hatching as well as by colour. */
export const STATE_FILLS: Readonly<Record<State, Fill>> = {
  running: { colour: BLUE, hatch: "none", hatchColour: BLUE },
  starved: { colour: PAPER, hatch: "rising", hatchColour: "#8c8c8c" },
  blocked: { colour: ORANGE, hatch: "falling", hatchColour: "#7a4f00" },
  down: { colour: "#222222", hatch: "crossed", hatchColour: "#ffffff" },
  held: { colour: "#ead0de", hatch: "level", hatchColour: "#8a3f68" },
};

const LEVELS: readonly (readonly [number, number, number])[] = [
  [255, 255, 217],
  [237, 248, 177],
  [199, 233, 180],
  [127, 205, 187],
  [65, 182, 196],
  [29, 145, 192],
  [34, 94, 168],
  [37, 52, 148],
  [8, 29, 88],
];

/** @param share 0 for empty to 1 for full */
export function levelColour(share: number): string {
  const position = Math.min(1, Math.max(0, share)) * (LEVELS.length - 1);
  const below = Math.min(LEVELS.length - 2, Math.floor(position));
  const from = LEVELS[below];
  const to = LEVELS[below + 1];
  if (from === undefined || to === undefined) throw new RangeError("no level colours");
  const part = position - below;
  const mix = (a: number, b: number): number => Math.round(a + (b - a) * part);
  return `rgb(${mix(from[0], to[0])}, ${mix(from[1], to[1])}, ${mix(from[2], to[2])})`;
}

/** Areas laid on one another, pale enough for ink on top; each has its own edge line besides. */
export const AREA_COLOURS: readonly string[] = ["#9ccbe6", "#f5cf7a", "#8fd0bd", "#e6bcd3", "#f0b08a", "#c9c9c9"];
