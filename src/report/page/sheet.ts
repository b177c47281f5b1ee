/** The sheet on top of a page: what is to be said in a meeting, on one sheet of paper. */
import type { Result } from "../../analysis/result.ts";
import { type AnswerLine, inBrief } from "../answer/answer.ts";
import { lossMoneyFigure } from "../answer/money-answer.ts";
import { findings } from "../run/findings.ts";
import { duration, items, longRun, number, rate } from "../text/figures.ts";
import type { FindingCode } from "../text/finding.ts";
import { type Column, fitting } from "../text/table.ts";
import { type Figure, figures, keyFigures } from "./key-figures.ts";
import { type Element, h, named } from "./markup.ts";

/** What is said first, then why, then what would change it; all else stands in the report's text. */
const ANSWER: readonly FindingCode[] = ["settled", "stopped", "made", "until", "time"];
const WHY: readonly FindingCode[] = ["bottleneck", "wait", "jam", "loss", "last", "limit", "warning", "changing"];
const CHANGES: readonly FindingCode[] = ["cure", "sensitivity"];

export function sheet(result: Result): Element[] {
  const told = findings(result);
  const texts = (codes: readonly FindingCode[], most: number): Element[] =>
    told
      .filter(({ code }) => codes.includes(code))
      .slice(0, most)
      .map(({ text }) => h("li", {}, text));
  const list = (heading: string, found: readonly Element[]): Element[] =>
    found.length === 0 ? [] : [h("h3", {}, heading), h("ul", {}, ...found)];
  const why = [
    ...whyLastWait(result)
      .slice(0, 2)
      .map((text) => h("li", {}, text)),
    ...texts(WHY, 4),
  ];
  const changes = [...largerFeeds(result).map((text) => h("li", {}, text)), ...texts(CHANGES, 3)];
  const answer = told.filter(({ code }) => ANSWER.includes(code)).map(({ text }) => h("p", { class: "answer" }, text));
  return [
    ...answer.slice(0, 2),
    figures([...keyFigures(result), ...worth(result)]),
    ...list("Why", why),
    ...list("What would change it", changes),
  ];
}

/** Beside what the page works out anew, which knows no money. */
function worth({ money }: Result): Figure[] {
  return money === undefined || money.loss_per_start === null ? [] : [{ name: "Money", ...lossMoneyFigure(money) }];
}

/** Of each line: where buffers fill one after the other, what comes to its last machine is too little until those before are full. */
function whyLastWait({ lines, machines }: Result): string[] {
  return lines.flatMap(({ machines: ids }) => lastWaits(machines.filter(({ id }) => ids.includes(id))));
}

function lastWaits(machines: Result["machines"]): string[] {
  const full = machines.flatMap(({ infeed }) => infeed.flatMap(({ full_at_min: at }) => (at === null ? [] : [at])));
  const [last, first] = [machines.at(-1), machines[0]];
  const inOrder = full.length > 2 && full.every((at, i) => at >= (full[i - 1] ?? 0));
  if (!inOrder || last === undefined || first === undefined || last.minutes.starved < 1) return [];
  const since = full[0] ?? 0;
  return [
    `Buffers fill one after another, ${first.id} first, at ${duration(since)}: until those before it are full they keep most of what comes, so ${last.id} waits for ${duration(last.minutes.starved)} in all.`,
  ];
}

/** What a twentieth more of each feed would do, of those that change anything. */
function largerFeeds({ sensitivity = [], settling, output }: Result): string[] {
  const made = longRun(output);
  return sensitivity.flatMap(({ figure, id, more }) => {
    if (figure !== "feed" || more === null) return [];
    const parts = [
      ...(more.settled_per_min !== null && made !== null && Math.abs(more.settled_per_min - made) > 1e-6 * made
        ? [`${rate(more.settled_per_min)} in the long run`]
        : []),
      ...(more.to_95_min !== null && settling.to_95_min !== null
        ? [`95\u00a0% from ${duration(more.to_95_min)} in place of ${duration(settling.to_95_min)}`]
        : []),
      ...(more.ramp_up_loss !== null && output.ramp_up_loss !== null
        ? [`${items(more.ramp_up_loss)} lost in place of ${number(output.ramp_up_loss)}`]
        : []),
    ];
    return parts.length === 0 ? [] : [`With 5\u00a0% more from ${id}: ${parts.join(", ")}.`];
  });
}

/** Rows that a sheet of paper has room for; the page's style leaves out the others there. */
const PRINTED = 8;
const MOST_TOLD = 8;
/** Characters that a row has room for beside what it does in words. */
const MOST_COLUMNS = 66;

export interface SideBySide {
  readonly caption: string;
  readonly columns: readonly Column[];
  /** In words, row by row; none where there is nothing to say. */
  readonly does: readonly string[];
  /** The row that is recommended, or -1. */
  readonly chosen: number;
}

/** The answer of a study, as the command prints it, and what it lays side by side. */
export function studySheet(answer: readonly AnswerLine[], { caption, columns, does, chosen }: SideBySide): Element[] {
  const kept = fitting(columns, MOST_COLUMNS);
  const [names, ...others] = kept;
  const heads = [...kept.map(({ heading }) => heading.join(" ").trim()), ...(does.length > 0 ? ["what it does"] : [])];
  const rows = (names?.cells ?? []).map((name, row) =>
    h(
      "tr",
      row === chosen ? { class: "chosen" } : {},
      h("th", { scope: "row" }, named(name.trim())),
      ...others.map(({ cells }) => h("td", {}, cells[row] ?? "")),
      ...(does.length > 0 ? [h("td", { class: "words" }, does[row] ?? "")] : []),
    ),
  );
  const printed = rows.length > PRINTED ? `; printed, the first ${PRINTED} of ${rows.length}` : "";
  return [
    h(
      "dl",
      { class: "told" },
      ...inBrief(answer, MOST_TOLD).map(({ what, text, isBad }) =>
        h("div", isBad === true ? { class: "bad" } : {}, h("dt", {}, what), h("dd", {}, text)),
      ),
    ),
    h(
      "div",
      { class: "scroll", tabindex: "0", role: "region", "aria-label": caption },
      h(
        "table",
        {},
        h("caption", {}, `${caption}${printed}`),
        h("thead", {}, h("tr", {}, ...heads.map((head) => h("th", { scope: "col" }, head)))),
        h("tbody", {}, ...rows),
      ),
    ),
  ];
}
