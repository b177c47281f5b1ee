/** report.md of a study of a dip: findings, picture, a row for each variant, assumptions and cautions. */
import type { Dip } from "../../study/shortage/shortage-results.ts";
import { answerTable } from "../answer/answer.ts";
import { countOrDash, minutesOrDash, NONE, rateOrDash, settlingOrDash } from "../text/cells.ts";
import { duration, longRun, number, plain } from "../text/figures.ts";
import {
  bullets,
  escapeMarkdown,
  left,
  markdownTable,
  type PictureLink,
  pictureSections,
  right,
} from "../text/markdown-text.ts";
import { CAUTIONS } from "../text/notes.ts";
import { dipAnswer } from "./dip-answer.ts";
import { dipFindings, standsBefore } from "./dip-findings.ts";
import { levelText, variantName } from "./shortage-figures.ts";
import { studied, variantsTable } from "./shortage-markdown.ts";

export function dipMarkdown(dip: Dip, pictures: readonly PictureLink[]): string {
  const { level, from_min: fromMin, for_min: forMin } = dip.dip;
  const sections = [
    `# Dip of the feed: ${escapeMarkdown(dip.title)}`,
    answerTable(dipAnswer(dip)),
    ...pictureSections(pictures),
    "## Findings",
    `${studied(dip)} The dip: ${levelText(level)} of the feed from ${duration(fromMin)} for ${duration(forMin)}.`,
    bullets(dipFindings(dip).map(({ text }) => escapeMarkdown(text))),
  ];
  sections.push("## Outcome", outcomes(dip), "## Variants", variantsTable(dip));
  sections.push("## Assumptions", bullets(ASSUMPTIONS), "## Cautions", bullets(CAUTIONS));
  return `${plain(sections.join("\n\n"))}\n`;
}

function outcomes(dip: Dip): string {
  const { results } = dip;
  return markdownTable(
    [
      left("variant"),
      right("settled, items/min"),
      right("lost, items"),
      right("lowest, items/min"),
      right("at, min"),
      right("95 % after, min"),
      right("in its pattern after, min"),
      right("hold-up before, items"),
      right("hold-up settled, items"),
    ],
    results.map((result) => [
      variantName(result.id),
      rateOrDash(longRun(result)),
      standsBefore(dip, result) ? NONE : number(result.lost),
      rateOrDash(result.lowest_per_min),
      minutesOrDash(result.lowest_at_min),
      minutesOrDash(result.within_tolerance_min),
      settlingOrDash(result.recovery_min, result.proved),
      countOrDash(result.hold_up_before),
      number(result.hold_up_settled),
    ]),
  );
}

const ASSUMPTIONS: readonly string[] = [
  "Every variant has the same machines, feeds, buffers and collecting belts, and is run twice from empty, without the dip and with it; lost is what the second run makes less up to the horizon.",
  "An even tree has a chain's belt inside and its branch at the machines; all its dividers are even, their ways the prime factors of the number of machines. A return loop has dividers of two and three ways, and what nobody has a share of goes back on a belt like the chain's.",
  "Recovery counts from the moment at which the feed is whole again: until the output keeps up with all of what it settles at, or until it keeps up with 95 % of that.",
];
