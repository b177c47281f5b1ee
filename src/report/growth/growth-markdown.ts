/** report.md of a growth study: findings, pictures, a row for each size, assumptions and cautions. */

import type { Growth, GrowthStep } from "../../study/comparison/results.ts";
import { answerTable } from "../answer/answer.ts";
import { countOrDash, exactRateOrDash, minutesOrDash, rateOrDash, settlingOrDash } from "../text/cells.ts";
import { longRun, number, plain } from "../text/figures.ts";
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
import { growthAnswer } from "./growth-answer.ts";
import { growthFindings } from "./growth-findings.ts";

export function growthMarkdown(growth: Growth, pictures: readonly PictureLink[]): string {
  const sections = [
    `# Growth: ${escapeMarkdown(growth.title)}`,
    answerTable(growthAnswer(growth)),
    ...pictureSections(pictures),
    "## Findings",
    `The group ${escapeMarkdown(growth.group)} is lengthened machine by machine.`,
    bullets(growthFindings(growth).map(({ text }) => escapeMarkdown(text))),
  ];
  sections.push("## Sizes", sizesTable(growth.sizes), SIZES_NOTE);
  sections.push("## Assumptions", bullets(ASSUMPTIONS), "## Cautions", bullets(CAUTIONS));
  return `${plain(sections.join("\n\n"))}\n`;
}

function sizesTable(sizes: readonly GrowthStep[]): string {
  return markdownTable(
    [
      right("machines"),
      right("need, items/min"),
      right("feed, items/min"),
      right("settled, items/min"),
      right("settles at, min"),
      right("95 % from, min"),
      right("lost, items"),
      right("settled hold-up, items"),
      left("tightest belt"),
      right("its headroom, items/min"),
    ],
    sizes.map((step) => [
      number(step.machines),
      exactRateOrDash(step.needs_per_min),
      exactRateOrDash(step.feed_per_min),
      rateOrDash(longRun(step)),
      settlingOrDash(step.settling_min, step.proved),
      minutesOrDash(step.within_tolerance_min),
      countOrDash(step.ramp_up_loss),
      number(step.hold_up_settled),
      step.tightest_belt === null ? "–" : escapeMarkdown(step.tightest_belt),
      exactRateOrDash(step.headroom_per_min),
    ]),
  );
}

const SIZES_NOTE = "Headroom below zero is what the belt cannot carry of the need.";

const ASSUMPTIONS: readonly string[] = [
  "Every added machine is like the others of its group, at the far end, with belts and dividers like theirs.",
  WHEN_SETTLED,
  "The ramp-up loss is counted against running at the settled output from the start.",
];
