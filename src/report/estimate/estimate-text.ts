/** The flow solution for the terminal: findings, events with exact times, machines. */
import type { Estimate, EstimateEvent, EstimateMachine } from "../../analysis/estimate.ts";
import type { AnswerLine } from "../answer/answer.ts";
import { pageText, type Shown } from "../answer/printed.ts";
import {
  approximately,
  duration,
  fromTime,
  items,
  minutesCell,
  number,
  percent,
  plain,
  rate,
  significant,
} from "../text/figures.ts";
import { type Column, table } from "../text/table.ts";
import { bullet, COLUMNS, PLAIN_STYLE, type Style } from "../text/terminal-lines.ts";
import { oneLine } from "../text/text-width.ts";

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

/** Exact fractions soon have more digits than anybody reads. */
const LONGEST_EXACT = 20;

function estimateAnswer(estimate: Estimate): AnswerLine[] {
  const [settled, full] = [approximately(estimate.settled_per_min), approximately(estimate.full_per_min)];
  const level =
    settled < full * (1 - 1e-9) ? `${percent(settled / full)} of its full ${rate(full)}` : "its full output";
  const mean = estimate.period_min === null ? "" : " on average";
  const held = estimate.feeds.filter(
    (feed) => approximately(feed.accepted_per_min) < approximately(feed.offered_per_min),
  );
  const lost = approximately(estimate.ramp_up_loss);
  return [
    { what: "Makes", text: `${exactRate(estimate.settled_per_min)}${mean}, ${level}; as a flow` },
    { what: "From", text: from(estimate) },
    { what: lost < 0 ? "Gained" : "Lost", text: `${items(Math.abs(lost))} in the ramp-up` },
    ...tightest(estimate),
    ...held.map(({ id, offered_per_min: offered, accepted_per_min: accepted }) => ({
      what: "Held back",
      text: `of ${rate(approximately(offered))} feed ${oneLine(id)} can place ${rate(approximately(accepted))}`,
      isBad: true,
    })),
    {
      what: "Mind",
      text: "belts take no time and items are a fluid here; fillfront run steps through both",
      isMore: true,
    },
  ];
}

function from({ within_tolerance_min: within, settling_min: at, tolerance }: Estimate): string {
  const band = `within ${percent(tolerance)}`;
  const most = within === null ? `${band} never for good` : `${band} ${fromTime(approximately(within))}`;
  return `${most}, all of it ${fromTime(approximately(at))}${exactly(at)}`;
}

function tightest({ belts }: Estimate): AnswerLine[] {
  const inOrder = belts.toSorted((a, b) => approximately(a.headroom_per_min) - approximately(b.headroom_per_min));
  const [first] = inOrder;
  if (first === undefined) return [];
  const alike = inOrder.filter(({ headroom_per_min: left }) => left === first.headroom_per_min).length - 1;
  const also = alike === 0 ? "" : `, and ${number(alike)} more like it`;
  const text = `belt ${oneLine(first.id)} carries ${rate(approximately(first.flow_per_min))}, headroom ${rate(approximately(first.headroom_per_min))}${also}`;
  return [{ what: "Tightest", text }];
}

/** Left out where the rounded figure says it, or where it is long. */
export function exactly(min: string): string {
  const isSaid = plain(duration(approximately(min))) === `${min} min`;
  return isSaid || min.length > LONGEST_EXACT ? "" : ` (exactly ${min} min)`;
}

/** With the fraction behind it where the decimals are rounded and the fraction is short. */
export function exactRate(exact: string): string {
  const thousandths = approximately(exact) * 1000;
  const isSaid = Math.abs(thousandths - Math.round(thousandths)) < 1e-6 || exact.length > LONGEST_EXACT;
  return `${rate(approximately(exact))}${isSaid ? "" : ` (exactly ${exact})`}`;
}
