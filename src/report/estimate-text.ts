/** The flow solution for the terminal: findings, events with exact times, machines. */
import type { Estimate, EstimateEvent } from "../analysis/estimate.ts";
import { approximately, duration, items, minutesCell, percent, plain, rate, significant } from "./figures.ts";
import { PLAIN_STYLE, type Style } from "./summary.ts";
import { table } from "./table.ts";
import { oneLine, wrap } from "./text-width.ts";

const COLUMNS = 80;

/** @returns lines with a line break at the end of each; exact times stand last in theirs, since they may be long */
export function estimateText(estimate: Estimate, style: Style = PLAIN_STYLE): string {
  const lines = [
    ...wrap(oneLine(estimate.title), COLUMNS).map(style.title),
    "",
    ...sentences(estimate).flatMap(bullet),
    "",
    ...events(estimate.events, style),
    "",
    ...machines(estimate, style),
  ];
  return `${lines.map(plain).join("\n")}\n`;
}

function bullet(text: string): string[] {
  const [first = "", ...rest] = wrap(text, COLUMNS - 2);
  return [`- ${first}`, ...rest.map((line) => `  ${line}`)];
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
  return [
    `As a flow the line settles at ${rate(settled)}${level}, from ${time(estimate.settling_min)} on (exactly ${estimate.settling_min} min).`,
    `The output stays within ${percent(estimate.tolerance)} of that from ${time(estimate.within_tolerance_min)} on.`,
    loss(estimate),
    ...held.map(
      ({ id, offered_per_min: offered, accepted_per_min: accepted }) =>
        `Of ${rate(approximately(offered))} the feed ${id} can place ${rate(approximately(accepted))} in the long run.`,
    ),
    "Belts take no time and items are a fluid here; fillfront run steps through both.",
  ];
}

function loss({ ramp_up_loss: exact }: Estimate): string {
  const lost = approximately(exact);
  return lost < 0
    ? `Up to then it makes ${items(-lost)} more than it would have at that output from the start.`
    : `Up to then it makes ${items(lost)} less than it would have at that output from the start.`;
}

const EVENT_WORDS = { full: "full", empty: "empty", feed: "feed changes" } as const;

function events(list: readonly EstimateEvent[], style: Style): string[] {
  if (list.length === 0) return ["No buffer ever gets full or empty."];
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
    ...rows.map((row, i) => `${row}  ${list[i]?.at_min}`),
  ];
}

function machines({ machines: list }: Estimate, style: Style): string[] {
  const { heading, rows } = table(
    [
      { heading: ["machine"], cells: list.map(({ id }) => id), align: "left", importance: 9 },
      {
        heading: ["needs", "/min"],
        cells: list.map(({ needs_per_min: needs }) => significant(approximately(needs))),
        align: "right",
        importance: 9,
      },
      {
        heading: ["settled", "/min"],
        cells: list.map(({ settled_per_min: settled }) => significant(approximately(settled))),
        align: "right",
        importance: 9,
      },
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
