/** report.md: findings first, then pictures, then tables, then assumptions and cautions. */
import type { Result } from "../analysis/result.ts";
import { duration, plain } from "./figures.ts";
import { findings } from "./findings.ts";
import { tables } from "./markdown-tables.ts";
import { escapeMarkdown } from "./markdown-text.ts";
import { assumptions, CAUTIONS } from "./notes.ts";

export interface PictureLink {
  readonly file: string;
  readonly title: string;
  readonly finding: string;
}

export function reportMarkdown(result: Result, pictures: readonly PictureLink[]): string {
  const bullets = (texts: readonly string[]): string => texts.map((text) => `- ${text}`).join("\n");
  const sections = [
    `# ${escapeMarkdown(result.title)}`,
    `Horizon ${duration(result.horizon_min)}, tick ${escapeMarkdown(result.tick_s)} s, seed ${escapeMarkdown(result.seed)}.`,
    "## Findings",
    bullets(
      findings(result).map(({ code, text }) => `${code === "warning" ? "**Warning:** " : ""}${escapeMarkdown(text)}`),
    ),
  ];
  if (pictures.length > 0) {
    sections.push("## Pictures");
    for (const { file, title, finding } of pictures) {
      sections.push(`![${escapeMarkdown(`${title}. ${finding}`)}](${file})`);
    }
  }
  sections.push("## Tables", ...tables(result));
  sections.push("## Assumptions", bullets(assumptions(result)), "## Cautions", bullets(CAUTIONS));
  return `${plain(sections.join("\n\n"))}\n`;
}
