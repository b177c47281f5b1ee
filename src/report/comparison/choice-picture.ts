/** Tactics ranked by their loss, a row each, with the time and the handling beside it: what is not beaten stands out. */
import type { Comparison, TacticResult } from "../../study/results.ts";
import { acrossAxis, label, type Picture, type PictureDataset, picture, rowAxis } from "../chart/frame.ts";
import { key } from "../chart/key.ts";
import { ACCENT, INK, INK_SOFT, PAPER } from "../chart/palette.ts";
import { rowHeight, shownRows } from "../chart/rows.ts";
import { withinPicture } from "../chart/scatter.ts";
import { type SideColumn, sideColumnRoom, sideColumns } from "../chart/side-columns.ts";
import { BASELINE, givenMin, makesNothing } from "../text/baseline.ts";
import { duration, listedShort, minutesCell, number, plain } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";
import { winnerInBrief } from "./comparison-findings.ts";
import { stands } from "./tactic-lines.ts";

const RADIUS = 9;

interface Row {
  readonly tactic: TacticResult;
  /** `null`: not known, or beyond the picture. */
  readonly loss: number | null;
}

export function choicePicture(comparison: Comparison): Picture {
  const { rows, beyond } = rowsOf(comparison);
  const losses = rows.flatMap(({ loss }) => loss ?? []);
  const side: SideColumn[] = [
    { heading: "loss", cells: rows.map(({ tactic }) => countCell(tactic.ramp_up_loss)), width: 76 },
    { heading: "95 %, min", cells: rows.map(({ tactic }) => timeCell(tactic)), width: 104 },
    { heading: "handled", cells: rows.map(({ tactic }) => number(tactic.items_handled)), width: 92 },
  ];
  const names = rowAxis(rows.map(({ tactic: { id } }) => label(id === BASELINE ? `${BASELINE} (as it is)` : id)));
  // Chart.js takes a colour for each tick.
  const colours = rows.map(({ tactic }) => (tactic.undominated || tactic.id === comparison.winner ? INK : INK_SOFT));
  return picture({
    shown: "Tactics ranked by their ramp-up loss",
    scenarioTitle: comparison.title,
    finding: findingOf(comparison, beyond),
    plotHeight: Math.round(Math.min(34, rowHeight(rows.length)) * rows.length) + 12,
    x: acrossAxis("ramp-up loss, items", Math.max(1, ...losses) * 1.04, Math.min(0, ...losses) * 1.1, true),
    y: { ...names, ticks: { ...names.ticks, color: colours } },
    datasets: [
      // The first is painted last.
      {
        ...dots(rows, "worth doing", ({ id }) => id === comparison.winner, INK, INK),
        pointStyle: "rectRot",
      },
      dots(rows, "not beaten", ({ undominated }) => undominated, ACCENT, ACCENT),
      dots(rows, "beaten", ({ undominated }) => !undominated, PAPER, INK_SOFT),
    ],
    plugins: [
      sideColumns("", side),
      key([
        { kind: "dot", text: "worth doing", shape: "rectRot", colour: INK },
        { kind: "dot", text: "not beaten", colour: ACCENT },
        ...(rows.some(({ tactic }) => !tactic.undominated) ? [{ kind: "dot", text: "beaten" } as const] : []),
      ]),
    ],
    right: sideColumnRoom(side),
    withKey: true,
  });
}

/** The least loss on top, what settles at nothing or not at all at the foot. */
function rowsOf({ tactics }: Comparison): { readonly rows: readonly Row[]; readonly beyond: readonly TacticResult[] } {
  const known = tactics.flatMap((tactic) =>
    tactic.ramp_up_loss === null ? [] : [{ tactic, at: { x: 0, y: tactic.ramp_up_loss } }],
  );
  const beyond = new Set(withinPicture(known, ({ tactic }) => stands(tactic)).beyond.map(({ tactic }) => tactic));
  const inOrder = tactics.toSorted((a, b) => compareLoss(a.ramp_up_loss, b.ramp_up_loss));
  const all = inOrder.map((tactic): Row => ({ tactic, loss: beyond.has(tactic) ? null : tactic.ramp_up_loss }));
  return { rows: shownRows(all).rows, beyond: [...beyond] };
}

function compareLoss(a: number | null, b: number | null): number {
  if (a === null || b === null) return a === b ? 0 : a === null ? 1 : -1;
  return a - b;
}

function dots(
  rows: readonly Row[],
  text: string,
  of: (tactic: TacticResult) => boolean,
  fill: string,
  edge: string,
): PictureDataset {
  return {
    label: text,
    data: rows.flatMap(({ tactic, loss }, y) => (loss === null || !of(tactic) ? [] : [{ x: loss, y }])),
    showLine: false,
    pointStyle: "circle",
    pointRadius: RADIUS,
    pointBackgroundColor: fill,
    pointBorderColor: edge,
    pointBorderWidth: 2.5,
    clip: false,
  };
}

function countCell(value: number | null): string {
  return value === null ? "–" : plain(number(value));
}

function timeCell(tactic: TacticResult): string {
  if (makesNothing(tactic)) return "stops";
  return tactic.to_95_min === null ? "–" : minutesCell(tactic.to_95_min);
}

function findingOf(comparison: Comparison, beyond: readonly TacticResult[]): string {
  const unknown = comparison.tactics.filter((tactic) => tactic.ramp_up_loss === null);
  const never = unknown.filter((tactic) => !makesNothing(tactic)).map(({ id }) => oneLine(id));
  const still = unknown.filter(makesNothing).map(({ id }) => oneLine(id));
  const parts = [winnerInBrief(comparison)];
  if (beyond.length > 0) parts.push(`Beyond the picture: ${listedShort(beyond.map(({ id }) => oneLine(id)))}.`);
  if (still.length > 0 && comparison.winner !== null) parts.push(`At a standstill: ${listedShort(still, 2)}.`);
  if (never.length > 0) parts.push(`Not settled yet within ${duration(givenMin(comparison))}: ${listedShort(never)}.`);
  return plain(parts.join(" "));
}
