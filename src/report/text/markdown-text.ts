/** Pieces of Markdown (CommonMark with the usual tables) around text that may hold anything. */
import { oneLine } from "./text-width.ts";

const HTML: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;" };

/** Text that reads as it stands: no markup, no HTML, no links, on one line. */
export function escapeMarkdown(text: string): string {
  return oneLine(text)
    .replace(/[&<>]/g, (character) => HTML[character] ?? character)
    .replace(/[\\`*_[\]|~$]/g, "\\$&")
    .replace(/^[-+=:#]/, "\\$&")
    .replace(/^\d+(?=[.)](?:\s|$))/, "$&\\")
    .replace(
      /(https?|ftp|mailto|www)(?=[:.])/gi,
      (scheme) => `${scheme.slice(0, -1)}&#${scheme.charCodeAt(scheme.length - 1)};`,
    )
    .replaceAll("@", "&#64;");
}

export interface MarkdownColumn {
  readonly heading: string;
  readonly align: "left" | "right";
}

export function left(heading: string): MarkdownColumn {
  return { heading, align: "left" };
}

export function right(heading: string): MarkdownColumn {
  return { heading, align: "right" };
}

/** @param rows cells already in Markdown */
export function markdownTable(columns: readonly MarkdownColumn[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]): string => `| ${cells.join(" | ")} |`;
  return [
    line(columns.map(({ heading }) => heading)),
    line(columns.map(({ align }) => (align === "left" ? ":--" : "--:"))),
    ...rows.map(line),
  ].join("\n");
}

/** @param texts already in Markdown */
export function bullets(texts: readonly string[]): string {
  return texts.map((text) => `- ${text}`).join("\n");
}

export interface PictureLink {
  readonly file: string;
  readonly title: string;
  readonly finding: string;
}

/** Heading and pictures; nothing if there are none. */
export function pictureSections(pictures: readonly PictureLink[]): string[] {
  if (pictures.length === 0) return [];
  const shown = pictures.map(({ file, title, finding }) => `![${escapeMarkdown(`${title}. ${finding}`)}](${file})`);
  return ["## Pictures", ...shown];
}
