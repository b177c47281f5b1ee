/** Elements made and found, with their kinds checked. */
import { h, type Element as Markup } from "../report/page/markup.ts";

export { h };

export function element(markup: Markup): HTMLElement {
  const made = document.createElement(markup.tag);
  for (const [name, value] of Object.entries(markup.attributes)) made.setAttribute(name, value);
  for (const child of markup.children) made.append(typeof child === "string" ? child : element(child));
  return made;
}

/** @throws Error if the page has no such element of that kind */
export function the<E extends HTMLElement>(id: string, kind: new () => E): E {
  const found = document.getElementById(id);
  if (!(found instanceof kind)) throw new Error(`the page has no ${id}`);
  return found;
}

const SVG = "http://www.w3.org/2000/svg";

export function svg(
  tag: string,
  attributes: Readonly<Record<string, string | number>> = {},
  ...children: readonly (SVGElement | string)[]
): SVGElement {
  const made = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, String(value));
  made.append(...children);
  return made;
}

export function context(canvas: HTMLCanvasElement): CanvasRenderingContext2D {
  const found = canvas.getContext("2d");
  if (found === null) throw new Error("no canvas to draw on");
  return found;
}

/** A colour of the page's style, which follows light and dark. */
export function colours(): (name: string) => string {
  const style = getComputedStyle(document.documentElement);
  const found = new Map<string, string>();
  return (name) => {
    const known = found.get(name) ?? style.getPropertyValue(`--${name}`).trim();
    found.set(name, known);
    return known;
  };
}
