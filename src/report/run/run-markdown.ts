/** report.md: the answer first, then pictures, findings, tables, then assumptions and cautions. */
import type { Result } from "../../analysis/result.ts";
import { answerTable } from "../answer/answer.ts";
import { replicationSections } from "../replications/replication-markdown.ts";
import { duration, plain } from "../text/figures.ts";
import { bullets, escapeMarkdown, type PictureLink, pictureSections } from "../text/markdown-text.ts";
import { assumptions, CAUTIONS } from "../text/notes.ts";
import { findings } from "./findings.ts";
import { tables } from "./markdown-tables.ts";
import { runAnswer } from "./run-answer.ts";

export function reportMarkdown(result: Result, pictures: readonly PictureLink[]): string {
  const sections = [
    `# ${escapeMarkdown(result.title)}`,
    answerTable(runAnswer(result)),
    ...pictureSections(pictures),
    "## Findings",
    `Horizon ${duration(result.horizon_min)}, tick ${escapeMarkdown(result.tick_s)} s, seed ${escapeMarkdown(result.seed)}.`,
    bullets(
      findings(result).map(({ code, text }) => `${code === "warning" ? "**Warning:** " : ""}${escapeMarkdown(text)}`),
    ),
  ];
  if (result.replications !== undefined) sections.push(...replicationSections(result.replications));
  sections.push("## Tables", ...tables(result));
  sections.push("## Assumptions", bullets(assumptions(result)), "## Cautions", bullets(CAUTIONS));
  return `${plain(sections.join("\n\n"))}\n`;
}
