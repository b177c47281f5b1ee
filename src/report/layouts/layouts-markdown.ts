/** report.md of a study of layouts: findings, pictures, tables with all figures, each layout with its drawing, cautions. */

import type { LengthUnit } from "../../quantity/units.ts";
import type { LayoutResult, LayoutStudy } from "../../study/layouts/layout-results.ts";
import { answerTable } from "../answer/answer.ts";
import { LUCK_ASSUMPTIONS, LUCK_NOTE, luckSections } from "../luck/luck-table.ts";
import { duration, items, listed, plain } from "../text/figures.ts";
import { bullets, escapeMarkdown, type PictureLink, pictureSections } from "../text/markdown-text.ts";
import { CAUTIONS, DRAWING_CAUTIONS, HAND_CAUTIONS, TACTIC_CAUTIONS, WHEN_SETTLED } from "../text/notes.ts";
import { reportTable } from "../text/study-table.ts";
import { areaText, buildable, elementsText, evennessNote, lineInBrief, WANTED, WEIGHS } from "./layout-figures.ts";
import { doesText, reasonText } from "./layout-words.ts";
import { layoutsAnswer } from "./layouts-answer.ts";
import { layoutsFindings, whatIsWeighed } from "./layouts-findings.ts";
import { buildingColumns, doingColumns, growingColumns, PRIMING } from "./layouts-table.ts";
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
    reportTable(doingColumns(study), study.layouts),
    doingNote(study),
    ...(luck === undefined ? [] : ["## Differences on the same luck", LUCK_NOTE, ...luckSections(luck)]),
    "## What each takes to build",
    reportTable(buildingColumns(study), study.layouts),
    BUILDING_NOTE,
  ];
  if (all.some(({ primed }) => primed !== null)) sections.push("## With priming", reportTable(PRIMING, all));
  const grown = all.flatMap(({ id, growth }) => growth.map((step) => ({ id, ...step })));
  if (all.some(({ one_more: more }) => more !== null))
    sections.push(`## More ${study.leads_to}`, reportTable(growingColumns(study.leads_to), grown), growingNote(study));
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

function doingNote(study: LayoutStudy): string {
  return [
    study.replications === undefined
      ? `Not beaten are those to which no other is at least as good in ${whatIsWeighed(study)}, and better in one.`
      : `Figures are means over replications. Not beaten are those than which no other is told better in one of ${whatIsWeighed(study)}, and worse in none.`,
    `Evenness is ${evennessNote(study)}, 1 where all have the same share.`,
  ].join("\n");
}

const BUILDING_NOTE = [
  "Dividers, merges and belts are those of the line alone. Lengths of belt are those of the ways on the grid, at least as stated;",
  "not to scale are layouts whose belts are stated by capacity and transit. The headroom is that of the line's tightest belt when all has settled.",
].join("\n");

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
  const parts = [`${capital(escapeMarkdown(doesText(layout)))}.`, ...inFigures(layout, unit)];
  if (links.length > 0) parts.push(`Its ${listed(links)}.`);
  const refusal = undrawn.get(layout.id);
  if (refusal !== undefined) parts.push(`It is not drawn: ${escapeMarkdown(refusal)}.`);
  const drawing = files.has(`${layout.id}.png`)
    ? [`![Drawing of ${name}: ${escapeMarkdown(doesText(layout))}](${layout.id}.png)`]
    : [];
  return [`### ${name}`, ...drawing, parts.join(" ")];
}

function capital(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}

function inFigures(layout: LayoutResult, unit: LengthUnit): string[] {
  const { feasible, reason, dividers, merges, belts, settling_min: at, ramp_up_loss: loss, floor_m2: floor } = layout;
  if (!feasible)
    return [
      `It cannot be built${reason === null ? "" : `: ${escapeMarkdown(reasonText(reason).replace(/\.$/, ""))}`}.`,
    ];
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
