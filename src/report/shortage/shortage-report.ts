/** A report of short feeds: the answer and a row for each level in the terminal, all else as details; report.md with who has how much; all its files. */
import type { Shortage } from "../../study/shortage/shortage-results.ts";
import { answerTable } from "../answer/answer.ts";
import { pageText, type Shown } from "../answer/printed.ts";
import { rateOrDash } from "../text/cells.ts";
import { approximately, duration, items, percentCell, plain, rate } from "../text/figures.ts";
import {
  bullets,
  escapeMarkdown,
  left,
  markdownTable,
  type PictureLink,
  pictureSections,
  right,
} from "../text/markdown-text.ts";
import { CAUTIONS, WHEN_SETTLED } from "../text/notes.ts";
import { reportTable, terminalTable } from "../text/study-table.ts";
import { bullet, COLUMNS, PLAIN_STYLE, type Style } from "../text/terminal-lines.ts";
import { wrap } from "../text/text-width.ts";
import { shortageAnswer } from "./shortage-answer.ts";
import { levelText, middleLevel, shareOf, variantName, variantText } from "./shortage-figures.ts";
import { shortageFindings } from "./shortage-findings.ts";
import { levelColumns, levelRows, shortageColumns } from "./shortage-table.ts";

const MOST_ROWS = 80;

/** @returns lines with a line break at the end of each */
export function shortageText(shortage: Shortage, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  const page = {
    title: shortage.title,
    answer: shortageAnswer(shortage),
    table: levelLines(shortage, style),
    isWholeInDetails: true,
    details: [
      shortageFindings(shortage).flatMap(({ code, text }) =>
        bullet(text).map(WARNINGS.has(code) ? style.warning : (line) => line),
      ),
      rowLines(shortage, style),
      [
        ...wrap(
          "Fully: machines at 99.9 % of their need or more. Least: the least share of its need that a machine has.",
          COLUMNS,
        ),
        ...wrap("Low and high: of the settled output, averaged over about ten cycles of each machine.", COLUMNS),
      ],
    ],
  };
  return pageText(page, style, shown);
}

const MOST_LEVELS = 16;

function levelLines(shortage: Shortage, style: Style): string[] {
  const { levels } = shortage;
  return [
    ...terminalTable(levelColumns(shortage), levels.slice(0, MOST_LEVELS), style),
    ...levelsLeft(levels.length - MOST_LEVELS),
  ];
}

const WARNINGS: ReadonlySet<string> = new Set(["stopped", "held", "swing", "products", "tree-needs", "unsettled"]);

/** Whole levels, as many as there is room for. */
function rowLines(shortage: Shortage, style: Style): string[] {
  const most = Math.max(1, Math.floor(MOST_ROWS / shortage.variants.length));
  const rows = terminalTable(shortageColumns(shortage), levelRows(shortage, most), style);
  return [...rows, ...levelsLeft(shortage.levels.length - most)];
}

function levelsLeft(left: number): string[] {
  return left > 0 ? [`… ${left} more ${left === 1 ? "level" : "levels"}, in shortage.csv`] : [];
}

/** report.md of a study of short feeds: findings, pictures, a table of levels, one of shares, assumptions and cautions. */
export function shortageMarkdown(shortage: Shortage, pictures: readonly PictureLink[]): string {
  const sections = [
    `# Short feed: ${escapeMarkdown(shortage.title)}`,
    answerTable(shortageAnswer(shortage)),
    ...pictureSections(pictures),
    "## Findings",
    studied(shortage),
    bullets(shortageFindings(shortage).map(({ text }) => escapeMarkdown(text))),
  ];
  sections.push("## Levels", reportTable(shortageColumns(shortage), levelRows(shortage)), LEVELS_NOTE);
  sections.push(...sharesAt(shortage));
  sections.push("## Variants", variantsTable(shortage));
  sections.push("## Assumptions", bullets(ASSUMPTIONS), "## Cautions", bullets(CAUTIONS));
  return `${plain(sections.join("\n\n"))}\n`;
}

/** Which feeds are lowered, and how long each run lasts. */
export function studied({ feeds, horizon_min, seed }: Pick<Shortage, "feeds" | "horizon_min" | "seed">): string {
  const named = feeds.map(({ id, rate_per_min: perMin, batch_items: batch }) => {
    const much = batch === null ? rate(approximately(perMin)) : `${items(batch)} a vehicle`;
    return `${escapeMarkdown(id)} (${much} in full)`;
  });
  return `Lowered: ${named.join(", ")}. Horizon ${duration(horizon_min)}, seed ${escapeMarkdown(seed)}.`;
}

const LEVELS_NOTE = [
  "In proportion: the output at full feed of the best variant, lowered as the feed is. Low and high are those of the",
  "settled output, averaged over about ten cycles of each machine. It swings where it leaves the settled rate by more",
  "than 5 % and by more than a cycle of each machine. Starving: below 99.9 % of the need for want of items.",
].join("\n");

/** Who has how much, machine by machine, at the level nearest to half feed. */
function sharesAt(shortage: Shortage): string[] {
  const level = middleLevel(shortage);
  const [first] = level?.variants ?? [];
  if (level === null || first === undefined) return [];
  const rows = first.machines.map((machine, m) => [
    escapeMarkdown(machine.id),
    machine.line === null ? "–" : escapeMarkdown(machine.line),
    rateOrDash(approximately(machine.full_products_per_min)),
    ...level.variants.map(({ machines }) => {
      const own = machines[m];
      return own === undefined ? "–" : percentCell(shareOf(own));
    }),
  ]);
  const headings = level.variants.map(({ id }) => right(`${variantName(id)}, %`));
  return [
    `## Shares of the need at ${levelText(level.level)} of the feed`,
    markdownTable([left("machine"), left("line"), right("at full speed, products/min"), ...headings], rows),
  ];
}

export function variantsTable({ variants }: Pick<Shortage, "variants">): string {
  return markdownTable(
    [left("variant"), left("what it is")],
    variants.map((one) => [variantName(one.id), escapeMarkdown(variantText(one))]),
  );
}

const ASSUMPTIONS: readonly string[] = [
  "Every variant has the same machines, feeds, buffers and collecting belts, and starts empty at the lowered feed.",
  "An even tree has a chain's belt inside and its branch at the machines; all its dividers are even, their ways the prime factors of the number of machines. A return loop has dividers of two and three ways, and what nobody has a share of goes back on a belt like the chain's.",
  "Jain's index is (Σx)² / (n Σx²) over the n machines of a line that a lowered feed can reach, x being the settled rate of a machine over its need (R. Jain, D. Chiu, W. Hawe, DEC-TR-301, 1984). Of several lines the least even one counts.",
  WHEN_SETTLED,
  "The settled rate is exact where that is proved.",
];
