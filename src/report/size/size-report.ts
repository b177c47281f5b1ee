/** A plant's size for the terminal: the answer, and machines stage by stage; feeds and belts as details. */
import type { PlantSize, SizedMachines } from "../../study/size/size-results.ts";
import type { AnswerLine } from "../answer/answer.ts";
import { pageText, type Shown } from "../answer/printed.ts";
import { exactRateOrDash } from "../text/cells.ts";
import { approximately, percent } from "../text/figures.ts";
import { count, exactRate, quantity, type StudyColumn, terminalTable, text } from "../text/study-table.ts";
import { bullet, PLAIN_STYLE, type Style } from "../text/terminal-lines.ts";
import { sizeFindings } from "./size-findings.ts";

const MOST_BELTS = 40;

/** @returns lines with a line break at the end of each */
export function sizeText(size: PlantSize, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  const belts = size.belts.length;
  const shownBelts = size.belts.slice(0, MOST_BELTS);
  const page = {
    title: size.title,
    answer: sizeAnswer(size),
    table: terminalTable(MACHINES, size.machines, style),
    details: [
      sizeFindings(size).flatMap(({ text, isBad }) => bullet(text).map(isBad ? style.warning : (line) => line)),
      terminalTable(feedColumns(size), size.feeds, style),
      [
        ...terminalTable(beltColumns(shownBelts), shownBelts, style),
        ...(belts > MOST_BELTS ? [`… ${belts - MOST_BELTS} more, in the JSON`] : []),
      ],
    ],
  };
  return pageText(page, style, shown);
}

const kinds = (list: SizedMachines["takes"]): string =>
  list.map(({ item, per_min }) => `${item} ${exactRateOrDash(per_min)}`).join(", ");
const shareText = (exact: string): string => percent(approximately(exact));

const MACHINES: readonly StudyColumn<SizedMachines>[] = [
  text(({ group }) => group, { terminal: ["machine", 99] }),
  count(({ stage }) => stage, { terminal: ["stage", 3] }),
  count((one) => one.count, { terminal: ["count", 9] }),
  exactRate(({ needs }) => needs, { terminal: ["needs", 5] }),
  quantity(({ busy }) => shareText(busy), { terminal: ["busy", 8] }),
  quantity(({ speed_to_fit: speed }) => shareText(speed), { terminal: ["speed|to fit", 6] }),
  text(({ takes }) => kinds(takes), { terminal: ["takes|/min", 4] }),
  text(({ makes }) => kinds(makes), { terminal: ["makes|/min", 4] }),
];

function feedColumns({ feeds }: PlantSize): StudyColumn<PlantSize["feeds"][number]>[] {
  return [
    text(({ feed }) => feed, { terminal: ["feed", 99] }),
    exactRate(({ rate_per_min: must }) => must, { terminal: ["must give|/min", 9] }),
    ...stated("stated", feeds),
  ];
}

function beltColumns(belts: PlantSize["belts"]): StudyColumn<PlantSize["belts"][number]>[] {
  return [
    text(({ id }) => id, { terminal: ["stretch", 99] }),
    exactRate(({ needs_per_min: needs }) => needs, { terminal: ["must carry|/min", 9] }),
    ...stated("carries", belts),
  ];
}

/** Left out where the file states none. */
function stated<Row extends { readonly stated_per_min: string | null }>(
  heading: string,
  all: readonly Row[],
): StudyColumn<Row>[] {
  if (all.every((one) => one.stated_per_min === null)) return [];
  return [exactRate((one: Row) => one.stated_per_min, { terminal: [`${heading}|/min`, 5] })];
}

const LABELS = {
  counts: "Needs",
  choice: "Choice",
  "too-small": "Too small",
  returns: "Returns",
  slowed: "Slowed",
  run: "Makes",
  chance: "Makes",
} as const;

function sizeAnswer(size: PlantSize): AnswerLine[] {
  const told = sizeFindings(size).map(({ code, text, isBad }): AnswerLine => {
    const short = text.replace(/^Too small: /, "").replace(/\.$/, "");
    return {
      what: LABELS[code],
      text: short,
      isBad,
      ...(code === "counts" || code === "run" || code === "chance" ? {} : { isMore: true }),
    };
  });
  const first = ["Needs", "Makes"];
  return [...told.filter(({ what }) => first.includes(what)), ...told.filter(({ what }) => !first.includes(what))];
}
