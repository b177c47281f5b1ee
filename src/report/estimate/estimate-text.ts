/** The flow solution for the terminal: findings, events with exact times, machines. */
import type { Estimate, EstimateEvent, EstimateMachine } from "../../analysis/estimate.ts";
import { pageText, type Shown } from "../answer/page.ts";
import { approximately, duration, items, minutesCell, percent, rate, significant } from "../text/figures.ts";
import { PLAIN_STYLE, type Style } from "../text/style.ts";
import { type Column, table } from "../text/table.ts";
import { bullet, COLUMNS } from "../text/terminal-lines.ts";
import { estimateAnswer, exactly, exactRate, LONGEST_EXACT } from "./estimate-answer.ts";

/** @returns lines with a line break at the end of each; exact times stand last in theirs, since they may be long */
export function estimateText(estimate: Estimate, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  const page = {
    title: estimate.title,
    answer: estimateAnswer(estimate),
    table: estimate.machines.length === 0 ? [] : machines(estimate, style),
    details: [
      sentences(estimate).flatMap(bullet),
      estimate.machines.length === 0 ? [] : events(estimate.events, style),
    ],
  };
  return pageText(page, style, shown);
}

function sentences(estimate: Estimate): string[] {
  const settled = approximately(estimate.settled_per_min);
  const full = approximately(estimate.full_per_min);
  const time = (exact: string): string => duration(approximately(exact));
  const level =
    settled < full * (1 - 1e-9) ? `, ${percent(settled / full)} of its full ${rate(full)}` : ", its full output";
  const held = estimate.feeds.filter(
    (feed) => approximately(feed.accepted_per_min) < approximately(feed.offered_per_min),
  );
  const { period_min: period, within_tolerance_min: within } = estimate;
  const mean = period === null ? "" : ` on average, in a pattern that repeats every ${time(period)}`;
  return [
    `As a flow the line settles at ${exactRate(estimate.settled_per_min)}${mean}${level}, from ${time(estimate.settling_min)} on${exactly(estimate.settling_min)}.`,
    within === null
      ? `The output leaves the band of ${percent(estimate.tolerance)} around that again and again.`
      : `The output stays within ${percent(estimate.tolerance)} of that from ${time(within)} on.`,
    loss(estimate),
    ...held.map(
      ({ id, offered_per_min: offered, accepted_per_min: accepted }) =>
        `Of ${exactRate(offered)} the feed ${id} can place ${exactRate(accepted)} in the long run.`,
    ),
    "Belts take no time and items are a fluid here; fillfront run steps through both.",
  ];
}

function loss({ ramp_up_loss: exact }: Estimate): string {
  const lost = approximately(exact);
  const size = exact.replace("-", "");
  const isSaid = !size.includes("/") || size.length > LONGEST_EXACT;
  const count = `${items(Math.abs(lost))}${isSaid ? "" : ` (exactly ${size})`}`;
  return `Up to then it makes ${count} ${lost < 0 ? "more" : "less"} than it would have at that output from the start.`;
}

const EVENT_WORDS = { full: "full", empty: "empty", feed: "feed changes" } as const;

function events(list: readonly EstimateEvent[], style: Style): string[] {
  if (list.length === 0) return ["No buffer fills."];
  const { heading, rows } = table(
    [
      { heading: ["buffer", "or feed"], cells: list.map(({ where }) => where), align: "left", importance: 9 },
      { heading: ["event"], cells: list.map(({ what }) => EVENT_WORDS[what]), align: "left", importance: 9 },
      {
        heading: ["at", "min"],
        cells: list.map(({ at_min: at }) => minutesCell(approximately(at))),
        align: "right",
        importance: 9,
      },
      {
        heading: ["output then", "/min"],
        cells: list.map(({ output_per_min: output }) => significant(approximately(output))),
        align: "right",
        importance: 9,
      },
    ],
    COLUMNS,
  );
  const [first = "", second = ""] = heading;
  return [
    style.heading(first),
    style.heading(`${second}  exactly`),
    ...rows.map((row, i) => `${row}  ${inTable(list[i]?.at_min ?? "")}`),
  ];
}

function inTable(exact: string): string {
  return exact.length <= LONGEST_EXACT ? exact : "see --json";
}

/** Whether a product is made of each item. */
function takesAsItMakes({ takes, products }: EstimateMachine): boolean {
  return takes.length === 1 && takes[0]?.needs_per_min === products.full_per_min;
}

function takes(list: readonly EstimateMachine[]): Column {
  const text = ({ takes: kinds }: EstimateMachine): string =>
    kinds.map(({ item, settled_per_min: rate }) => `${significant(approximately(rate))} ${item}`).join(" + ");
  return { heading: ["takes", "/min"], cells: list.map(text), align: "right", importance: 8 };
}

function machines({ machines: list }: Estimate, style: Style): string[] {
  const { heading, rows } = table(
    [
      { heading: ["machine"], cells: list.map(({ id }) => id), align: "left", importance: 9 },
      {
        heading: ["full", "/min"],
        cells: list.map(({ products }) => significant(approximately(products.full_per_min))),
        align: "right",
        importance: 9,
      },
      {
        heading: ["settled", "/min"],
        cells: list.map(({ products }) => significant(approximately(products.settled_per_min))),
        align: "right",
        importance: 9,
      },
      ...(list.every(takesAsItMakes) ? [] : [takes(list)]),
      {
        heading: ["buffer", "full at", "min"],
        cells: list.map(({ full_at_min: at }) => (at === null ? "–" : minutesCell(approximately(at)))),
        align: "right",
        importance: 9,
      },
    ],
    COLUMNS,
  );
  return [...heading.map(style.heading), ...rows];
}
