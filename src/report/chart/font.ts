/** The open font of the pictures, Source Sans 3, in the parts its package splits it into, and how wide its text is. */
import { columnsOf, type Measure, textWidth } from "../text/text-width.ts";

export const FONT_SUBSETS = ["latin", "latin-ext", "greek", "cyrillic"] as const;
export type FontSubset = (typeof FONT_SUBSETS)[number];

/** Names of our own, so that an installed font of the same name changes nothing. */
export function subsetFamily(subset: FontSubset): string {
  return `Fillfront ${subset}`;
}

/** One family a subset, tried in turn. */
export const FONT_FAMILY: string = FONT_SUBSETS.map((subset) => `"${subsetFamily(subset)}"`).join(", ");

/** For `CanvasRenderingContext2D.font`. */
export function font(size: number, weight: 400 | 600 = 400): string {
  return `${weight} ${size}px ${FONT_FAMILY}`;
}

/** Widths in thousandths of the font size, rounded up, weight 600; weight 400 is a little narrower. */
const WIDTHS: ReadonlyMap<string, number> = new Map(
  (
    [
      [200, " \u00a0"],
      [275, "',.:;ijl|·"],
      [325, "!()-I[]f{}"],
      [375, "/\\rt"],
      [475, "*?csz"],
      [525, '"#$+0123456789<=>FJLY^_aegkvxy~–−'],
      [575, "AESTVXZ`bdhnopqu"],
      [625, "BCDKPR"],
      [675, "&GHNOQU"],
      [775, "Mw"],
      [825, "W"],
      [875, "%@m"],
      [970, "…"],
    ] as const
  ).flatMap(([width, characters]) => [...characters].map((character) => [character, width] as const)),
);
/** Any other letter; as wide as the widest Cyrillic ones. */
const OTHER = 900;

const ems: Measure = (grapheme) => {
  const base = grapheme.normalize("NFD").charAt(0);
  return (WIDTHS.get(base) ?? OTHER * columnsOf(grapheme)) / 1000;
};

/** Measures characters at a font size, in pixels, never too narrow. */
export function pixels(size: number): Measure {
  return (grapheme) => ems(grapheme) * size;
}

/** @returns pixels, rounded up */
export function textPixels(text: string, size: number): number {
  return Math.ceil(textWidth(text, pixels(size)));
}
