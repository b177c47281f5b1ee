/** Pages of studies: the answer and what is laid side by side, each of it to replay beside the file as it is. */
import type { BestStudy } from "../../study/best/best-results.ts";
import type { LayoutStudy } from "../../study/layouts/layout-results.ts";
import type { Comparison } from "../../study/results.ts";
import type { Shortage } from "../../study/shortage/shortage-results.ts";
import type { AnswerLine } from "../answer/answer.ts";
import type { PageSource } from "../answer/printed.ts";
import { bestAnswer } from "../best/best-answer.ts";
import { startColumns } from "../best/best-table.ts";
import { comparisonAnswer } from "../comparison/comparison-answer.ts";
import { luckComparisonAnswer } from "../comparison/luck-comparison-answer.ts";
import { luckComparisonColumns } from "../comparison/luck-comparison-text.ts";
import { tacticColumns } from "../comparison/tactics-table.ts";
import { buildable } from "../layouts/layout-figures.ts";
import { doesText } from "../layouts/layout-words.ts";
import { layoutsAnswer } from "../layouts/layouts-answer.ts";
import { layoutColumns } from "../layouts/layouts-table.ts";
import { shortageAnswer } from "../shortage/shortage-answer.ts";
import { levelColumns } from "../shortage/shortage-table.ts";
import { approximately, duration, number, percent } from "../text/figures.ts";
import { CAUTIONS, DRAWING_CAUTIONS, TACTIC_CAUTIONS } from "../text/notes.ts";
import { briefColumns } from "../text/study-table.ts";
import { tacticText } from "../text/tactic-words.ts";
import { pageOf } from "./page.ts";
import { type SideBySide, studySheet } from "./sheet.ts";
import type { Choice, Variant } from "./skeleton.ts";

const STARTS = { legend: "Start, shown beside doing nothing", beside: "Nothing done" } as const;
const FROM_THE_START = "times in minutes from the moment at which the feed could start";

export function comparisonPage(comparison: Comparison, source: PageSource): string {
  const { tactics, replications: luck, winner, horizon_min: horizon } = comparison;
  const rows = tactics.toSorted((a, b) => Number(b.id === winner) - Number(a.id === winner));
  const shown = winner ?? tactics.find(({ id }) => id !== "none")?.id ?? null;
  return studyPage(comparison.title, source, {
    head: `Ways to start, within ${duration(horizon)}; ${FROM_THE_START}.${onLuck(luck)}`,
    answer: luck === undefined ? comparisonAnswer(comparison) : luckComparisonAnswer(comparison, luck),
    table: {
      caption: "Starts side by side, the choice first; * is not beaten by any other",
      columns: briefColumns(luck === undefined ? tacticColumns(rows) : luckComparisonColumns(luck), rows),
      does: rows.map(({ does }) => tacticText(does)),
      chosen: winner === null ? -1 : 0,
    },
    choice: { ...STARTS, ...startedBy(tactics, shown) },
    cautions: TACTIC_CAUTIONS,
  });
}

/** @param source its text the file with the starts of the list as its tactics */
export function bestPage(study: BestStudy, source: PageSource): string {
  const { starts, recommended, under_chance: chance, horizon_min: horizon } = study;
  return studyPage(study.title, source, {
    head: `The best starts found, within ${duration(horizon)}; ${FROM_THE_START}.${onLuck(chance)}`,
    answer: bestAnswer(study),
    table: {
      caption: "Starts side by side; > is recommended",
      columns: briefColumns(startColumns(study), starts),
      does: starts.map(({ does }) => tacticText(does)),
      chosen: starts.findIndex(({ id }) => id === recommended),
    },
    choice: { ...STARTS, ...startedBy(starts, recommended) },
    cautions: TACTIC_CAUTIONS,
  });
}

/** @param scenarios texts by the layout's id */
export function layoutsPage(study: LayoutStudy, scenarios: ReadonlyMap<string, string>, source: PageSource): string {
  const all = buildable(study);
  const { recommended, best_without_reserve: bare, replications: luck, line, horizon_min: horizon } = study;
  // The line as it stands is what each is shown beside.
  const texts = [...scenarios].filter(([id, text]) => id !== study.today && text.length <= MOST_OF_ONE);
  const [shown = null] = [recommended, bare, ...texts.map(([id]) => id)].filter((id) =>
    texts.some(([known]) => known === id),
  );
  return studyPage(study.title, source, {
    head: `Layouts of the line ${line}, within ${duration(horizon)}.${onLuck(luck)}`,
    answer: layoutsAnswer(study),
    table: {
      caption: "Layouts side by side; * is not beaten by any other",
      columns: all.length === 0 ? [] : briefColumns(layoutColumns(study), all),
      does: all.map(doesText),
      chosen: all.findIndex(({ id }) => id === recommended),
    },
    choice: {
      legend: "Layout, shown beside the line as the file has it",
      beside: "As the file has it",
      variants: texts.map(([name, text]) => ({ name, text, start: null })),
      chosen: shown,
    },
    cautions: DRAWING_CAUTIONS,
  });
}

/** @param texts the file at each level, from the highest to the lowest */
export function shortagePage(shortage: Shortage, texts: ReadonlyMap<string, string>, source: PageSource): string {
  const variants = [...texts].map(([level, text]): Variant => {
    return { name: `${percent(approximately(level))} of the feed`, text, start: null };
  });
  return studyPage(shortage.title, source, {
    head: `What happens when the feed falls short, within ${duration(shortage.horizon_min)}.`,
    answer: shortageAnswer(shortage),
    table: {
      caption: "Levels of the feed; least: the smallest share of its need that any machine has, by how dividers divide",
      columns: briefColumns(levelColumns(shortage), shortage.levels),
      does: [],
      chosen: -1,
    },
    choice: {
      legend: "Feed, shown beside what the file has",
      beside: "The whole feed",
      variants,
      chosen: variants[Math.floor(variants.length / 2)]?.name ?? null,
    },
    cautions: [],
  });
}

/** What is longer makes a page slow to open; it lies beside the report. */
const MOST_OF_ONE = 200_000;

function onLuck(luck: { readonly n: number } | undefined): string {
  if (luck === undefined) return "";
  return ` Figures on this sheet are of ${number(luck.n)} replications on the same luck; in motion is one of them, with the file's seed.`;
}

function startedBy(
  starts: readonly { readonly id: string }[],
  shown: string | null,
): Pick<Choice, "variants" | "chosen"> {
  const variants = starts.map(({ id }): Variant => {
    return id === "none" ? { name: "nothing done", text: null, start: null } : { name: id, text: null, start: id };
  });
  return { variants, chosen: shown === "none" ? "nothing done" : shown };
}

interface Study {
  readonly head: string;
  readonly answer: readonly AnswerLine[];
  readonly table: SideBySide;
  readonly choice: Choice;
  readonly cautions: readonly string[];
}

function studyPage(title: string, source: PageSource, { head, answer, table, choice, cautions }: Study): string {
  const told = studySheet(answer, table);
  return pageOf({ title, head, told, source, choice, cautions: [...CAUTIONS, ...cautions] });
}
