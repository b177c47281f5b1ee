/** Markup as plain data: made into text for a file, or into elements by the page. Text is never markup. */
export interface Element {
  readonly tag: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly (Element | string)[];
}

export function h(
  tag: string,
  attributes: Readonly<Record<string, string>> = {},
  ...children: readonly (Element | string)[]
): Element {
  return { tag, attributes, children };
}

/** A name or title that may be written in any direction, kept from turning what stands beside it. */
export function named(text: string): Element {
  return h("bdi", {}, text);
}

export function html(node: Element | string): string {
  if (typeof node === "string") return escaped(node);
  const attributes = Object.entries(node.attributes).map(([name, value]) => ` ${name}="${escaped(value)}"`);
  return `<${node.tag}${attributes.join("")}>${node.children.map(html).join("")}</${node.tag}>`;
}

const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

export function escaped(text: string): string {
  return text.replaceAll(/[&<>"']/g, (character) => ENTITIES[character] ?? "");
}

/** JSON for a script element that holds data: nothing in it ends the element. */
export function dataText(value: unknown): string {
  return JSON.stringify(value)
    .replaceAll("<", "\\u003c")
    .replaceAll("\u2028", "\\u2028")
    .replaceAll("\u2029", "\\u2029");
}
