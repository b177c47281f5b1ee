/** report.md of a comparison: the answer first, then pictures, findings, the table, what each does, cautions. */

import type { Comparison, TacticResult } from "../../study/comparison/results.ts";
import { answerTable } from "../answer/answer.ts";
import { countOrDash, differenceOrDash, minutesOrDash, settlingOrDash } from "../text/cells.ts";
import { duration, number, percentCell, plain } from "../text/figures.ts";
import {
  bullets,
  escapeMarkdown,
  left,
  markdownTable,
  type PictureLink,
  pictureSections,
  right,
} from "../text/markdown-text.ts";
import { savedCells, savedHeadings } from "../text/money-text.ts";
import { CAUTIONS, HAND_CAUTIONS, HANDS_WORK, notCharged, TACTIC_CAUTIONS, WHEN_SETTLED } from "../text/notes.ts";
import { oneLine } from "../text/text-width.ts";
import { settlesCell } from "./baseline.ts";
import { comparisonAnswer } from "./comparison-answer.ts";
import { comparisonFindings, WHAT_COUNTS } from "./comparison-findings.ts";

export function comparisonMarkdown(comparison: Comparison, pictures: readonly PictureLink[]): string {
  const { tactics } = comparison;
  const sections = [
    `# Tactics compared: ${escapeMarkdown(comparison.title)}`,
    answerTable(comparisonAnswer(comparison)),
    ...pictureSections(pictures),
    "## Findings",
    `Horizon ${duration(comparison.horizon_min)}, tick ${escapeMarkdown(comparison.tick_s)} s, seed ${escapeMarkdown(comparison.seed)}.`,
    bullets(
      comparisonFindings(comparison)
        .filter(({ code }) => code !== "note")
        .map(({ text }) => escapeMarkdown(text)),
    ),
  ];
  sections.push("## Tactics", outcomes(tactics), OUTCOMES_NOTE);
  if (tactics.some(({ made }) => made.min_10 !== null)) sections.push("### Products made at first", made(tactics));
  sections.push("### What each does", whatEachDoes(tactics));
  const notes = tactics.flatMap(({ id, notes: own }) =>
    own.map((note) => `${escapeMarkdown(id)}: ${escapeMarkdown(note)}`),
  );
  if (notes.length > 0) sections.push("## Notes", bullets(notes));
  sections.push("## Assumptions", bullets(assumptions(tactics)), "## Cautions", bullets(cautions(tactics)));
  return `${plain(sections.join("\n\n"))}\n`;
}

function outcomes(tactics: readonly TacticResult[]): string {
  const limited = LIMITED.filter(({ of }) => tactics.some((tactic) => of(tactic) !== null));
  const standing = STANDING.filter(({ of }) => tactics.some((tactic) => of(tactic) !== null));
  return markdownTable(
    [
      left("tactic"),
      left("choice"),
      right("settles at, min"),
      right("95 % at, min"),
      right("lost, items"),
      right("handled, items"),
      right("first product, min"),
      right("peak hold-up, items"),
      right("settled hold-up, items"),
      ...limited.map(({ heading }) => right(heading)),
      ...standing.map(({ heading }) => right(heading)),
      ...savedHeadings(tactics).map(right),
      left("beaten by"),
    ],
    tactics.map((tactic) => [
      escapeMarkdown(tactic.id),
      tactic.undominated ? "yes" : "",
      tactic.stops_at_min === null ? settlingOrDash(tactic.settling_min, tactic.proved) : settlesCell(tactic),
      minutesOrDash(tactic.to_95_min),
      countOrDash(tactic.ramp_up_loss),
      number(tactic.items_handled),
      minutesOrDash(tactic.first_product_min),
      number(tactic.hold_up_peak),
      number(tactic.hold_up_settled),
      ...limited.map(({ cell }) => cell(tactic)),
      ...standing.map(({ cell }) => cell(tactic)),
      ...savedCells(tactic),
      tactic.beaten_by === null ? "" : escapeMarkdown(tactic.beaten_by),
    ]),
  );
}

/** Only where the plant states such limits. */
const LIMITED = [
  {
    heading: "time over limit, min",
    of: (tactic: TacticResult) => tactic.over_limit_min,
    cell: (tactic: TacticResult) => minutesOrDash(tactic.over_limit_min),
  },
  {
    heading: "dwell over limit, items",
    of: (tactic: TacticResult) => tactic.over_limit_items,
    cell: (tactic: TacticResult) => countOrDash(tactic.over_limit_items),
  },
] as const;

/** What a stop finds. */
const STANDING = [
  {
    heading: "reserve kept, %",
    of: (tactic: TacticResult) => tactic.reserve_kept,
    cell: ({ reserve_kept: kept }: TacticResult) => (kept === null ? "–" : percentCell(kept)),
  },
  {
    heading: "made if a machine stops, items",
    of: ({ made_while_stopped: { machine } }: TacticResult) => machine,
    cell: ({ made_while_stopped: { machine } }: TacticResult) => countOrDash(machine),
  },
  {
    heading: "made if the feed stops, items",
    of: ({ made_while_stopped: { feeds } }: TacticResult) => feeds,
    cell: ({ made_while_stopped: { feeds } }: TacticResult) => countOrDash(feeds),
  },
] as const;

const OUTCOMES_NOTE = [
  "Times run from the moment at which the feed could have started, so a start that waits for hands counts as late. Lost",
  "is what is missing from that moment on against what the line settles at with nothing done, up to one end for all; below 0",
  "it is a gain. Reserve is the settled stock in infeed buffers, against what it is with nothing done. What is made if something",
  "stops is made meanwhile, five minutes after the start, for five minutes. The choice are those that no other beats; to beat",
  `is to be at least as good in ${WHAT_COUNTS}, and better in one.`,
].join("\n");

export function made(tactics: readonly TacticResult[]): string {
  const spans = (["min_10", "min_30", "min_60"] as const).filter((span) =>
    tactics.some((tactic) => tactic.made[span] !== null),
  );
  const minutes = (span: string): string => span.replace("min_", "");
  return markdownTable(
    [
      left("tactic"),
      ...spans.flatMap((span) => [right(`in ${minutes(span)} min, items`), right("more than without a tactic")]),
    ],
    tactics.map((tactic) => [
      escapeMarkdown(tactic.id),
      ...spans.flatMap((span) => [countOrDash(tactic.made[span]), differenceOrDash(tactic.made_more[span])]),
    ]),
  );
}

export function whatEachDoes(tactics: readonly TacticResult[]): string {
  return markdownTable(
    [left("tactic"), left("does"), left("asks for"), left("granted")],
    tactics.map(({ id, does, asks_for: asks, granted }) => [
      escapeMarkdown(id),
      escapeMarkdown(does),
      escapeMarkdown(asks.join("; ")),
      asks.length === 0 ? "" : granted ? "yes" : "no",
    ]),
  );
}

const assumptions = (tactics: readonly TacticResult[]): string[] => [
  "All tactics run on the same line with the same seed, each from an empty line but for what it places itself.",
  WHEN_SETTLED,
  HANDS_WORK,
  notCharged(tactics),
  "Time runs in ticks, and every time here is right to a tick.",
];

export function cautions(tactics: readonly TacticResult[]): string[] {
  const [estimate = "", hands = "", goods = ""] = CAUTIONS;
  const byHand = tactics.filter((tactic) => tactic.by_hand).map(({ id }) => escapeMarkdown(oneLine(id)));
  const forHands =
    byHand.length === 0 ? [hands] : [`Hands go into the line with ${byHand.join(", ")}.`, ...HAND_CAUTIONS];
  return [estimate, ...forHands, ...TACTIC_CAUTIONS, goods];
}
