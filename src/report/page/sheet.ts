/** The sheet on top of a page: what is to be said in a meeting, on one sheet of paper. */
import type { Result } from "../../analysis/result.ts";
import type { Comparison } from "../../study/comparison/results.ts";
import { recommendedFindings } from "../comparison/recommended-findings.ts";
import { findings } from "../run/findings.ts";
import { duration, items, longRun, number, rate } from "../text/figures.ts";
import type { FindingCode } from "../text/finding.ts";
import { figures, keyFigures } from "./key-figures.ts";
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
  const why = [...whyLastWait(result).map((text) => h("li", {}, text)), ...texts(WHY, 4)];
  const changes = [...largerFeeds(result).map((text) => h("li", {}, text)), ...texts(CHANGES, 3)];
  const answer = told.filter(({ code }) => ANSWER.includes(code)).map(({ text }) => h("p", { class: "answer" }, text));
  return [
    ...answer.slice(0, 2),
    figures(keyFigures(result)),
    ...list("Why", why),
    ...list("What would change it", changes),
  ];
}

/** Where buffers fill one after the other: until those before it are full, what comes to the last machine is too little. */
function whyLastWait({ machines }: Result): string[] {
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

export function comparisonSheet(comparison: Comparison): Element[] {
  const said = recommendedFindings(comparison).map(({ text }, i) =>
    i === 0 ? h("p", { class: "answer" }, text) : h("p", {}, text),
  );
  const at = (minutes: number | null): string => (minutes === null ? "–" : number(minutes, 1));
  const rows = comparison.tactics.map((tactic) =>
    h(
      "tr",
      tactic.id === comparison.winner ? { class: "chosen" } : {},
      h("th", { scope: "row" }, named(tactic.id)),
      ...[
        at(tactic.to_95_min),
        at(tactic.settling_min),
        tactic.ramp_up_loss === null ? "–" : number(tactic.ramp_up_loss),
        number(tactic.items_handled),
        number(tactic.hold_up_peak),
      ].map((cell) => h("td", {}, cell)),
      h("td", { class: "words" }, tactic.does),
    ),
  );
  const heads = ["start", "95 %, min", "full, min", "loss, items", "handled", "most held", "what it does"];
  return [
    ...said,
    h(
      "div",
      { class: "scroll", tabindex: "0", role: "region", "aria-label": "Starts side by side" },
      h(
        "table",
        {},
        h(
          "caption",
          {},
          `Starts side by side, the choice first${rows.length > PRINTED ? `; printed, the first ${PRINTED} of ${rows.length}` : ""}`,
        ),
        h("thead", {}, h("tr", {}, ...heads.map((head) => h("th", { scope: "col" }, head)))),
        h("tbody", {}, ...rows),
      ),
    ),
  ];
}
