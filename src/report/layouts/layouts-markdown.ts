/** report.md of a study of layouts: findings, pictures, tables with all figures, each layout with its drawing, cautions. */

import type { LengthUnit } from "../../quantity/units.ts";
import type { LayoutMoney, LayoutResult, LayoutStudy } from "../../study/layouts/layout-results.ts";
import { answerTable } from "../answer/answer.ts";
import { lossMin } from "../luck/luck-figures.ts";
import { LUCK_ASSUMPTIONS, LUCK_NOTE, luckSections } from "../luck/luck-table.ts";
import { countOrDash, indexOrDash, minutesOrDash, NONE, rateOrDash, settlingOrDash } from "../text/cells.ts";
import { duration, items, listed, number, plain } from "../text/figures.ts";
import {
  bullets,
  escapeMarkdown,
  left,
  markdownTable,
  type PictureLink,
  pictureSections,
  right,
} from "../text/markdown-text.ts";
import { moneyOrDash, yearsOrDash } from "../text/money-text.ts";
import { CAUTIONS, DRAWING_CAUTIONS, HAND_CAUTIONS, TACTIC_CAUTIONS, WHEN_SETTLED } from "../text/notes.ts";
import {
  areaOrDash,
  areaText,
  beltCell,
  buildable,
  elementsText,
  evennessNote,
  limitedIn,
  lineInBrief,
  WANTED,
  WEIGHS,
} from "./layout-figures.ts";
import { layoutsAnswer } from "./layouts-answer.ts";
import { layoutsFindings, whatIsWeighed } from "./layouts-findings.ts";
import { byHand } from "./layouts-text.ts";

/** What lies beside the report. */
export interface Beside {
  /** By name. */
  readonly files: ReadonlySet<string>;
  /** Why there is no drawing, by layout. */
  readonly undrawn: ReadonlyMap<string, string>;
}

export function layoutsMarkdown(study: LayoutStudy, pictures: readonly PictureLink[], beside: Beside): string {
  const all = buildable(study);
  const { replications: luck } = study;
  const sections = [
    `# Layouts: ${escapeMarkdown(study.title)}`,
    answerTable(layoutsAnswer(study)),
    ...pictureSections(pictures),
    "## Findings",
    laidOut(study),
    bullets(layoutsFindings(study).map(({ text }) => escapeMarkdown(text))),
    "## What each does",
    doing(study),
    doingNote(study),
    ...(luck === undefined ? [] : ["## Differences on the same luck", LUCK_NOTE, ...luckSections(luck)]),
    "## What each takes to build",
    building(study),
    BUILDING_NOTE,
  ];
  if (all.some(({ primed }) => primed !== null)) sections.push("## With priming", priming(all));
  if (all.some(({ one_more: more }) => more !== null))
    sections.push(`## More ${study.leads_to}`, growing(all, study.leads_to), growingNote(study));
  sections.push("## The layouts", ...study.layouts.flatMap((layout) => own(layout, study.length_unit, beside)));
  const assumptions = luck === undefined ? ASSUMPTIONS : onLuck(ASSUMPTIONS);
  sections.push("## Assumptions", bullets(assumptions), "## Cautions", bullets(cautions(all)));
  return `${plain(sections.join("\n\n"))}\n`;
}

function laidOut(study: LayoutStudy): string {
  const { line, priority } = study;
  return [
    lineInBrief(escapeMarkdown(line), study),
    `Priority ${priority}: ${WANTED[priority]}, by ${WEIGHS[priority]}.`,
    `Horizon ${duration(study.horizon_min)}, tick ${escapeMarkdown(study.tick_s)} s, seed ${escapeMarkdown(study.seed)}.`,
  ].join(" ");
}

function doing(study: LayoutStudy): string {
  const { layouts, replications: luck } = study;
  const limited = limitedIn(study);
  const settles = luck === undefined;
  return markdownTable(
    [
      left("layout"),
      left("not beaten"),
      right("settled, items/min"),
      ...(settles ? [right("settles at, min")] : []),
      right("95 % at, min"),
      right("lost, items"),
      ...(luck === undefined ? [] : [right("lost, min of output")]),
      right("settled hold-up, items"),
      right("peak hold-up, items"),
      right("mean dwell, min"),
      right("longest dwell, min"),
      ...(limited.holdUp ? [right("time over limit, min")] : []),
      ...(limited.dwell ? [right("dwell over limit, items")] : []),
      right("evenness on half the feed"),
      left("beaten by"),
    ],
    layouts.map((layout) => [
      escapeMarkdown(layout.id),
      layout.undominated ? "yes" : "",
      rateOrDash(layout.settled_per_min),
      ...(settles ? [settlingOrDash(layout.settling_min, layout.proved)] : []),
      minutesOrDash(layout.to_95_min),
      countOrDash(layout.ramp_up_loss),
      ...(luck === undefined ? [] : [minutesOrDash(lossMin(luck, layout.id))]),
      countOrDash(layout.hold_up_settled),
      countOrDash(layout.hold_up_peak),
      minutesOrDash(layout.dwell_mean_min),
      minutesOrDash(layout.dwell_longest_min),
      ...(limited.holdUp ? [minutesOrDash(layout.over_limit_min)] : []),
      ...(limited.dwell ? [countOrDash(layout.over_limit_items)] : []),
      indexOrDash(layout.evenness_at_half_feed),
      layout.feasible ? nameOr("", layout.beaten_by ?? layout.assuming) : "cannot be built",
    ]),
  );
}

function nameOr(none: string, name: string | null): string {
  return name === null ? none : escapeMarkdown(name);
}

function doingNote(study: LayoutStudy): string {
  return [
    study.replications === undefined
      ? `Not beaten are those to which no other is at least as good in ${whatIsWeighed(study)}, and better in one.`
      : `Figures are means over replications. Not beaten are those than which no other is told better in one of ${whatIsWeighed(study)}, and worse in none.`,
    `Evenness is ${evennessNote(study)}, 1 where all have the same share.`,
  ].join("\n");
}

function building(study: LayoutStudy): string {
  const { layouts, length_unit: unit } = study;
  const [money] = layouts.flatMap((layout) => layout.money ?? []);
  return markdownTable(
    [
      left("layout"),
      right("dividers"),
      right("merges"),
      right("belts"),
      right(`belt, ${unit}`),
      right(`floor, ${unit}²`),
      right("crossings"),
      left("tightest belt"),
      right("headroom, items/min"),
      ...(money === undefined ? [] : MONEY.map(({ heading }) => right(heading(money)))),
    ],
    layouts.map((layout) => [
      escapeMarkdown(layout.id),
      countOrDash(layout.dividers),
      countOrDash(layout.merges),
      countOrDash(layout.belts),
      beltCell(layout, study),
      areaOrDash(layout.floor_m2, unit),
      countOrDash(layout.crossings),
      nameOr(NONE, layout.tightest_belt),
      rateOrDash(layout.headroom_per_min),
      ...(money === undefined ? [] : MONEY.map(({ cell }) => cell(layout.money, money))),
    ]),
  );
}

interface Priced {
  readonly heading: (money: LayoutMoney) => string;
  readonly cell: (own: LayoutMoney | undefined, money: LayoutMoney) => string;
}

const MONEY: readonly Priced[] = [
  { heading: ({ currency }) => `built new, ${currency}`, cell: (own, money) => moneyOrDash(own?.build, money) },
  {
    heading: ({ currency }) => `in place of today's, ${currency}`,
    cell: (own, money) => moneyOrDash(own?.change, money),
  },
  {
    heading: ({ currency }) => `lost a year, ${currency}`,
    cell: (own, money) => moneyOrDash(own?.loss_per_year, money),
  },
  { heading: () => "paid for after, years", cell: (own) => yearsOrDash(own?.paid_after_years) },
];

const BUILDING_NOTE = [
  "Dividers, merges and belts are those of the line alone. Lengths of belt are those of the ways on the grid, at least as stated;",
  "not to scale are layouts whose belts are stated by capacity and transit. The headroom is that of the line's tightest belt when all has settled.",
].join("\n");

function priming(all: readonly LayoutResult[]): string {
  return markdownTable(
    [
      left("layout"),
      left("tactic"),
      left("does"),
      right("settles at, min"),
      right("lost, items"),
      right("handled, items"),
      right("peak hold-up, items"),
      left("hands in the line"),
    ],
    all.map(({ id, primed }) => [
      escapeMarkdown(id),
      ...(primed === null
        ? ["none is better than doing nothing", "", NONE, NONE, NONE, NONE, ""]
        : [
            escapeMarkdown(primed.tactic),
            escapeMarkdown(primed.does),
            minutesOrDash(primed.settling_min),
            countOrDash(primed.ramp_up_loss),
            number(primed.items_handled),
            number(primed.hold_up_peak),
            primed.by_hand ? "yes" : "no",
          ]),
    ]),
  );
}

function growing(all: readonly LayoutResult[], what: string): string {
  return markdownTable(
    [
      left("layout"),
      right(what),
      left("becomes"),
      left("added"),
      left("torn out"),
      right("belts too slow"),
      right("busiest of them, items/min"),
    ],
    all.flatMap(({ id, growth }) =>
      growth.map(({ machines, layout, added, torn_out: out, too_slow: slow, busiest_per_min: busiest }) => [
        escapeMarkdown(id),
        number(machines),
        escapeMarkdown(layout),
        elementsText(added),
        elementsText(out),
        number(slow),
        rateOrDash(busiest),
      ]),
    ),
  );
}

function growingNote({ leads_to: what }: LayoutStudy): string {
  const fed = what === "outlets" ? "as much as today" : "what all of them need";
  return `Each step is from the layout as it stands today, with ${what} like the last at its end, fed ${fed}.`;
}

/** A layout by itself: what it is, its drawing, its scenario. */
function own(layout: LayoutResult, unit: LengthUnit, { files, undrawn }: Beside): string[] {
  const name = escapeMarkdown(layout.id);
  const link = (ending: string, text: string): string[] =>
    files.has(`${layout.id}.${ending}`) ? [`[${text}](${layout.id}.${ending})`] : [];
  const links = [...link("yaml", "scenario"), ...link("svg", "drawing as SVG")];
  const parts = [`${capital(escapeMarkdown(layout.does))}.`, ...inFigures(layout, unit)];
  if (links.length > 0) parts.push(`Its ${listed(links)}.`);
  const refusal = undrawn.get(layout.id);
  if (refusal !== undefined) parts.push(`It is not drawn: ${escapeMarkdown(refusal)}.`);
  const drawing = files.has(`${layout.id}.png`)
    ? [`![Drawing of ${name}: ${escapeMarkdown(layout.does)}](${layout.id}.png)`]
    : [];
  return [`### ${name}`, ...drawing, parts.join(" ")];
}

function capital(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}

function inFigures(layout: LayoutResult, unit: LengthUnit): string[] {
  const { feasible, reason, dividers, merges, belts, settling_min: at, ramp_up_loss: loss, floor_m2: floor } = layout;
  if (!feasible)
    return [`It cannot be built${reason === null ? "" : `: ${escapeMarkdown(reason.replace(/\.$/, ""))}`}.`];
  const does = [
    ...(at === null ? [] : [`settles at ${duration(at)}`]),
    ...(loss === null ? [] : [loss < 0 ? `gains ${items(-loss)}` : `loses ${items(loss)}`]),
  ];
  const counts = elementsText({ dividers: dividers ?? 0, merges: merges ?? 0, belts: belts ?? 0 });
  const on = floor === null ? "" : ` on ${areaText(floor, unit)} of floor`;
  return [...(does.length === 0 ? [] : [`It ${listed(does)}.`]), `It takes ${counts}${on}.`];
}

const ASSUMPTIONS: readonly string[] = [
  "All layouts have the same machines, feeds and buffers, and belts of the same make; the other lines of the plant stay as they are. Each starts empty, with the same seed.",
  "A layout can be built where even dividers give every machine its exact share and no belt has to carry more than its rate; a chain, where its belts carry what passes them.",
  WHEN_SETTLED,
  "Floor is what elements and belts take on a grid, with the footprints stated in the file or common ones; it is for comparing layouts, not for planning a hall.",
  "Priming is that one of the file's and the standard tactics which comes first for the layout; hands, sensors and drives are not charged for.",
  "More machines are like the last, at the end of the feeding order. An element stays where the longer line has one like it in the same place; the others are added or torn out.",
];

/** Settling and priming are other things then. */
function onLuck(assumptions: readonly string[]): string[] {
  const left = assumptions.filter((text) => !text.startsWith("Settled means") && !text.startsWith("Priming is"));
  return [
    ...LUCK_ASSUMPTIONS,
    ...left,
    "Drawings and headroom show the first replication. No layout is primed: fillfront compare tells tactics apart on the scenario of the one to build, with replications of its own.",
  ];
}

function cautions(all: readonly LayoutResult[]): string[] {
  const [estimate = "", hands = "", goods = ""] = CAUTIONS;
  const names = byHand(all).map(escapeMarkdown);
  const primed = all.some((layout) => layout.primed !== null);
  const forHands = names.length === 0 ? [hands] : [`Hands go into the line with ${listed(names)}.`, ...HAND_CAUTIONS];
  return [estimate, ...DRAWING_CAUTIONS, ...forHands, ...(primed ? TACTIC_CAUTIONS : []), goods];
}
