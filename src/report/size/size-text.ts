/** A plant's size for the terminal: the answer, and machines stage by stage; feeds and belts as details. */
import type { PlantSize, SizedMachines } from "../../study/size/size-results.ts";
import { pageText, type Shown } from "../answer/page.ts";
import { exactRateOrDash } from "../text/cells.ts";
import { approximately, number, percent, significant } from "../text/figures.ts";
import { PLAIN_STYLE, type Style } from "../text/style.ts";
import { type Column, table } from "../text/table.ts";
import { bullet, COLUMNS } from "../text/terminal-lines.ts";
import { oneLine } from "../text/text-width.ts";
import { sizeAnswer } from "./size-answer.ts";
import { sizeFindings } from "./size-findings.ts";

const MOST_BELTS = 40;

/** @returns lines with a line break at the end of each */
export function sizeText(size: PlantSize, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  const belts = size.belts.length;
  const page = {
    title: size.title,
    answer: sizeAnswer(size),
    table: lined(machineColumns(size.machines), style),
    details: [
      sizeFindings(size).flatMap(({ text, isBad }) => bullet(text).map(isBad ? style.warning : (line) => line)),
      lined(feedColumns(size), style),
      [
        ...lined(beltColumns(size), style),
        ...(belts > MOST_BELTS ? [`… ${belts - MOST_BELTS} more, in the JSON`] : []),
      ],
    ],
  };
  return pageText(page, style, shown);
}

function lined(columns: readonly Column[], style: Style): string[] {
  const { heading, rows } = table(columns, COLUMNS);
  return [...heading.map(style.heading), ...rows];
}

function machineColumns(machines: readonly SizedMachines[]): Column[] {
  const column = (heading: readonly string[], importance: number, cell: (one: SizedMachines) => string): Column => {
    return { heading, importance, cells: machines.map(cell), align: "right" };
  };
  const kinds = (list: SizedMachines["takes"]): string =>
    list.map(({ item, per_min }) => `${oneLine(item)} ${exactRateOrDash(per_min)}`).join(", ");
  return [
    { ...column(["machine"], 99, ({ group }) => oneLine(group)), align: "left" },
    column(["stage"], 3, ({ stage }) => number(stage)),
    column(["count"], 9, ({ count }) => number(count)),
    column(["needs"], 5, ({ needs }) => significant(approximately(needs))),
    column(["busy"], 8, ({ busy }) => percent(approximately(busy))),
    column(["speed", "to fit"], 6, ({ speed_to_fit: speed }) => percent(approximately(speed))),
    { ...column(["takes", "/min"], 4, ({ takes }) => kinds(takes)), align: "left" },
    { ...column(["makes", "/min"], 4, ({ makes }) => kinds(makes)), align: "left" },
  ];
}

function feedColumns({ feeds }: PlantSize): Column[] {
  return [
    { heading: ["feed"], importance: 99, align: "left", cells: feeds.map(({ feed }) => oneLine(feed)) },
    {
      heading: ["must give", "/min"],
      importance: 9,
      align: "right",
      cells: feeds.map(({ rate_per_min }) => exactRateOrDash(rate_per_min)),
    },
    ...statedColumn("stated", feeds),
  ];
}

function beltColumns({ belts }: PlantSize): Column[] {
  const shown = belts.slice(0, MOST_BELTS);
  return [
    { heading: ["stretch"], importance: 99, align: "left", cells: shown.map(({ id }) => oneLine(id)) },
    {
      heading: ["must carry", "/min"],
      importance: 9,
      align: "right",
      cells: shown.map(({ needs_per_min: needs }) => exactRateOrDash(needs)),
    },
    ...statedColumn("carries", shown),
  ];
}

/** Left out where the file states none. */
function statedColumn(heading: string, all: readonly { readonly stated_per_min: string | null }[]): Column[] {
  if (all.every(({ stated_per_min: stated }) => stated === null)) return [];
  const cells = all.map(({ stated_per_min: stated }) => exactRateOrDash(stated));
  return [{ heading: [heading, "/min"], importance: 5, align: "right", cells }];
}
