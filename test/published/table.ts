/** The comparisons as a Markdown table, with its sources below: as `npm run published` prints it. */
import type { Coverage } from "./coverage.ts";
import type { JudgedRow } from "./study.ts";

const HEAD = ["case", "figure", "known", "simulated", "± (99 %)", "share", "inside", "from"];

export function tableOf(rows: readonly JudgedRow[]): string {
  const sources = [...new Set(rows.map(({ source }) => source))];
  const cells = lines(rows).map(([study = "", ...rest], i, all) => {
    const source = rest.pop() ?? "";
    const isSame = i > 0 && all[i - 1]?.[0] === study;
    return [isSame ? "" : study, ...rest, `[${sources.indexOf(source) + 1}]`];
  });
  return `${markdown([HEAD, ...cells])}\n\n${sources.map((source, i) => `- [${i + 1}] ${source}`).join("\n")}`;
}

/** One line for each row, but for curves, of which each has one, and for coarser ticks, which stand before their limit. */
function lines(rows: readonly JudgedRow[]): string[][] {
  const curves = new Set<string>();
  let coarser: JudgedRow[] = [];
  return rows.flatMap((row) => {
    const { curve, isOnTheWay } = row.known;
    if (isOnTheWay) {
      coarser.push(row);
      return [];
    }
    const onTheWay = coarser;
    coarser = [];
    if (curve === undefined) return [line(row, onTheWay)];
    const id = `${row.study}/${curve}`;
    if (curves.has(id)) return [];
    curves.add(id);
    return [curveLine(rows.filter((one) => one.study === row.study && one.known.curve === curve))];
  });
}

function line(row: JudgedRow, coarser: readonly JudgedRow[]): string[] {
  const { study, source, known, found, halfWidth, isInside, isAllowed, isNarrow } = row;
  const share = known.value === 0 ? "" : `${(100 * (halfWidth / Math.abs(known.value))).toPrecision(2)} %`;
  const verdict = isInside ? "yes" : isAllowed ? "beyond 99 %, allowed" : "NO";
  const means = coarser.map((one) => `${figure(one.found.mean)} → `).join("");
  return [
    study,
    known.figure,
    figure(known.value),
    `${means}${figure(found.mean)}`,
    figure(halfWidth),
    isNarrow ? share : `${share}: TOO WIDE`,
    verdict,
    source,
  ];
}

function curveLine(rows: readonly JudgedRow[]): string[] {
  const [first] = rows;
  if (first === undefined) return [];
  const inside = rows.filter(({ isInside }) => isInside).length;
  const off = Math.max(...rows.map(({ known, found }) => Math.abs(found.mean - known.value)));
  const verdict = rows.every(({ isAllowed }) => isAllowed) ? `${inside} of ${rows.length}` : "NO";
  return [
    first.study,
    `${first.known.curve} in ${rows.length} slots from 1 to 100`,
    `${figure(first.known.value)} … ${figure(rows.at(-1)?.known.value ?? Number.NaN)}`,
    `${figure(first.found.mean)} … ${figure(rows.at(-1)?.found.mean ?? Number.NaN)}`,
    figure(Math.max(...rows.map(({ halfWidth }) => halfWidth))),
    `off by ${figure(off)} at most`,
    verdict,
    first.source,
  ];
}

/** Rounded to six decimals: Markov chains and closed forms here agree to more. */
function figure(value: number): string {
  const text = value.toFixed(Math.abs(value) < 0.01 ? 6 : 5);
  return Number(text) === 0 ? "0" : text;
}

export function coverageText({ what, held, of, none }: Coverage): string {
  const share = ((100 * held) / of).toFixed(2);
  const left = none > 0 ? `; ${none} more runs were too short to say` : "";
  return `95 % intervals, ${what}: ${held} of ${of} hold the known rate, ${share} %${left}`;
}

function markdown(rows: readonly (readonly string[])[]): string {
  const [head = []] = rows;
  const widths = head.map((_, c) => Math.max(...rows.map((row) => (row[c] ?? "").length)));
  const print = (row: readonly string[]): string =>
    `| ${widths.map((width, c) => (row[c] ?? "").padEnd(width)).join(" | ")} |`;
  const rule = `| ${widths.map((width) => "-".repeat(width)).join(" | ")} |`;
  return [print(head), rule, ...rows.slice(1).map(print)].join("\n");
}
