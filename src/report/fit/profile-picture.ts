/** How the fit gets worse as one unknown is moved and the others are fitted again, with the range of 95 %. */

import type { Fit, FittedUnknown } from "../../study/fit/fit-results.ts";
import { acrossAxis, type Picture, picture, valueAxis } from "../chart/frame.ts";
import { key } from "../chart/key.ts";
import { timeMarks } from "../chart/marks.ts";
import { ACCENT, INK_SOFT } from "../chart/palette.ts";
import { plain } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";
import { valueWithin } from "./fit-figures.ts";
import { fitFindings } from "./fit-findings.ts";

const CHI_SQUARE_95 = 3.84;
/** Of the limit: what lies higher has nothing more to say. */
const TOP = 2.5;
const LIMIT = { colour: INK_SOFT, width: 2, dash: [9, 6] };

export function profilePicture(fit: Fit, unknown: FittedUnknown): Picture {
  const { path, unit, profile, range_95: range, value } = unknown;
  const limit = CHI_SQUARE_95 * fit.widened_by ** 2;
  const points = profile.map((point) => ({ x: point.value, y: Math.max(0, point.chi_square - fit.chi_square) }));
  const [low, high] = shownRange(unknown, points, limit * TOP);
  const shown = valueWithin(unknown);
  const finding =
    fitFindings(fit).find(({ code, text }) => code === unknown.told && text.includes(oneLine(path)))?.text ??
    `The counts tell little of ${oneLine(path)}.`;
  const isEndShown = range[0] !== range[1];
  const ends = range.flatMap((end) =>
    end === null || !isEndShown ? [] : [{ at: end, text: plain(shown(end)), colour: INK_SOFT, dash: [4, 5] }],
  );
  return picture({
    shown: `How well ${oneLine(path)} is known`,
    scenarioTitle: fit.title,
    finding: plain(finding),
    plotHeight: 420,
    x: acrossAxis(unit === "" ? oneLine(path) : `${oneLine(path)} (${unit})`, high, low, unit === ""),
    y: valueAxis("χ² above its least", limit * TOP, -0.06 * limit * TOP),
    datasets: [
      {
        label: "limit",
        data: [
          { x: low, y: limit },
          { x: high, y: limit },
        ],
        borderColor: LIMIT.colour,
        borderWidth: LIMIT.width,
        borderDash: LIMIT.dash,
        pointRadius: 0,
      },
      {
        label: "profile",
        data: points,
        borderColor: ACCENT,
        borderWidth: 3.5,
        pointRadius: 6,
        pointBackgroundColor: ACCENT,
        pointBorderColor: ACCENT,
      },
    ],
    plugins: [
      timeMarks([...ends, { at: value, text: `fitted ${plain(shown(value))}`, colour: ACCENT, dash: [] }]),
      key([
        ...(ends.length === 0
          ? []
          : [{ kind: "line" as const, text: "range of 95 %", colour: INK_SOFT, width: 3, dash: [4, 5] }]),
        { kind: "line", text: `worse by ${limit.toFixed(2)}`, ...LIMIT },
        { kind: "dot", text: "the others fitted again", colour: ACCENT },
      ]),
    ],
    right: 40,
    withKey: true,
  });
}

/** As far as points lie within the picture, and the range. */
function shownRange(
  { value, unit, lower, upper, range_95: [low, high] }: FittedUnknown,
  points: readonly { readonly x: number; readonly y: number }[],
  top: number,
): [number, number] {
  const within = [value, low ?? value, high ?? value, ...points.filter(({ y }) => y <= top).map(({ x }) => x)];
  const [least, most] = [Math.min(...within), Math.max(...within)];
  // Steep ends would press the rest together.
  const room = Math.max(unit === "" ? 1 : (upper - lower) * 1e-5, (most - least) * 0.12);
  return [Math.max(lower, least - room), Math.min(upper, most + room)];
}
