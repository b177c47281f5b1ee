/** What is left over: observed less fitted, in units of the expected error, over time. */
import type { Fit } from "../../study/fit/fit-results.ts";
import { type EndLabel, endLabelRoom, endLabels } from "../chart/end-labels.ts";
import { acrossAxis, label, type Picture, type PictureDataset, picture, valueAxis } from "../chart/frame.ts";
import { key } from "../chart/key.ts";
import { INK_SOFT, lineStyle } from "../chart/palette.ts";
import { number, plain } from "../text/figures.ts";
import { MOST_SHOWN, minutesOrHours } from "./curve-pictures.ts";
import { residualsOf, worstMisfit } from "./fit-figures.ts";

/** Within it lie 95 % of residuals that are nothing but counting errors. */
const USUAL = 2;
const BAND = { colour: INK_SOFT, width: 2, dash: [9, 6] };

export function residualsPicture(fit: Fit): Picture {
  const { scale, title } = minutesOrHours(fit);
  const end = Math.max(1e-3, (fit.times_min.at(-1) ?? 0) * scale);
  const series = fit.series.slice(0, MOST_SHOWN).map((one) => ({ name: one.name, residuals: residualsOf(one) }));
  const all = fit.series.flatMap(residualsOf).flatMap((one) => one ?? []);
  const most = Math.max(USUAL, ...all.map(Math.abs)) * 1.15;
  const level = (y: number, width: number, dash: number[]): PictureDataset => ({
    label: "level",
    data: [
      { x: 0, y },
      { x: end, y },
    ],
    borderColor: BAND.colour,
    borderWidth: width,
    borderDash: dash,
    pointRadius: 0,
  });
  const labels = series.map(({ name, residuals }, index): EndLabel => {
    const style = lineStyle(index);
    const last = residuals.findLast((one) => one !== null) ?? 0;
    return { text: label(name), value: last, colour: style.colour, style: { ...style, dash: [] } };
  });
  return picture({
    shown: "Residuals, observed less fitted",
    scenarioTitle: fit.title,
    finding: plain(residualsFinding(fit, all)),
    plotHeight: 460,
    x: acrossAxis(title, end),
    y: valueAxis("residual over expected error", most, -most),
    datasets: [
      level(0, 1.5, []),
      level(USUAL, BAND.width, BAND.dash),
      level(-USUAL, BAND.width, BAND.dash),
      ...series.map(({ name, residuals }, index): PictureDataset => {
        const { colour, marker } = lineStyle(index);
        return {
          label: name,
          data: residuals.map((y, row) => ({ x: (fit.times_min[row] ?? 0) * scale, y: y ?? Number.NaN })),
          showLine: false,
          pointStyle: marker,
          pointRadius: 6,
          pointBorderWidth: 2.5,
          pointBorderColor: colour,
          pointBackgroundColor: colour,
          clip: false,
        };
      }),
    ],
    plugins: [
      endLabels(labels),
      key([{ kind: "line", text: "95 % lie within, where counting errors are all there is", ...BAND }]),
    ],
    right: endLabelRoom(labels),
    withKey: true,
  });
}

function residualsFinding(fit: Fit, all: readonly number[]): string {
  const outside = all.filter((one) => Math.abs(one) > USUAL).length;
  const share = `${number(outside)} of ${number(all.length)} residuals lie beyond twice their expected error.`;
  const worst = worstMisfit(fit);
  if (all.every((one) => one === 0)) return "Every count is met exactly.";
  return worst === undefined || outside === 0
    ? share
    : `${share} ${worst.name} fits worst, with a mean square of ${number(worst.meanSquare, 2)}.`;
}
