/** Observed counts as points on the curves of the fitted run: what is counted from the start, and what lies somewhere. */

import type { Fit, FitCurves, FittedSeries } from "../../study/fit/fit-results.ts";
import { type EndLabel, endLabelRoom, endLabels } from "../chart/end-labels.ts";
import { acrossAxis, label, type Picture, type PictureDataset, picture, valueAxis } from "../chart/frame.ts";
import { key } from "../chart/key.ts";
import { lineStyle, PAPER } from "../chart/palette.ts";
import { listedShort, number, plain } from "../text/figures.ts";
import { isCount } from "./fit-figures.ts";
import { fitFindings } from "./fit-findings.ts";

/** More lines would be told apart by nobody. */
export const MOST_SHOWN = 8;

/** What is counted from the start. */
export function countsPicture(fit: Fit, curves: FitCurves): Picture | null {
  return curvePicture(fit, curves, { shown: "Counted since the start", of: isCount });
}

export function levelsPicture(fit: Fit, curves: FitCurves): Picture | null {
  return curvePicture(fit, curves, { shown: "Levels", of: (one) => !isCount(one) });
}

interface Content {
  readonly shown: string;
  readonly of: (series: FittedSeries) => boolean;
}

/** `null` where nothing of the kind was observed. */
function curvePicture(fit: Fit, curves: FitCurves, { shown, of }: Content): Picture | null {
  const all = fit.series.flatMap((series, s) => (of(series) ? [{ series, curve: curves.series[s] ?? [] }] : []));
  const some = all.slice(0, MOST_SHOWN);
  if (some.length === 0) return null;
  const { scale, title } = minutesOrHours(fit);
  const highest = Math.max(
    1,
    ...some.flatMap(({ series, curve }) => [...curve, ...series.observed.map((one) => one ?? 0)]),
  );
  const labels = some.map(({ series, curve }, index): EndLabel => {
    const style = lineStyle(index);
    return { text: label(series.name), value: curve.at(-1) ?? 0, colour: style.colour, style };
  });
  const datasets = some.flatMap(({ series, curve }, index): PictureDataset[] => {
    const { colour, dash, marker } = lineStyle(index);
    return [
      {
        label: series.name,
        data: curve.map((value, n) => ({ x: (curves.timesMin[n] ?? 0) * scale, y: value })),
        borderColor: colour,
        borderDash: [...dash],
        borderWidth: 2.5,
        pointRadius: 0,
      },
      {
        label: `${series.name}, observed`,
        data: series.observed.flatMap((value, row) =>
          value === null ? [] : [{ x: (fit.times_min[row] ?? 0) * scale, y: value }],
        ),
        showLine: false,
        pointStyle: marker,
        pointRadius: 6,
        pointBorderWidth: 2.5,
        pointBorderColor: colour,
        pointBackgroundColor: PAPER,
        clip: false,
      },
    ];
  });
  return picture({
    shown: `${shown}, observed and fitted`,
    scenarioTitle: fit.title,
    finding: plain(findingOf(fit, all)),
    plotHeight: 520,
    x: acrossAxis(title, Math.max(1e-3, (fit.times_min.at(-1) ?? 0) * scale)),
    y: valueAxis("items", highest * 1.08),
    datasets,
    plugins: [
      endLabels(labels),
      key([
        { kind: "dot", text: "observed" },
        { kind: "line", text: "fitted run", colour: lineStyle(0).colour, width: 2.5, dash: [] },
      ]),
    ],
    right: endLabelRoom(labels),
    withKey: true,
  });
}

/** How well the series of the picture are met. */
function findingOf(fit: Fit, all: readonly { readonly series: FittedSeries }[]): string {
  const more = all.length > MOST_SHOWN ? ` Shown are ${MOST_SHOWN} of ${all.length}.` : "";
  const code = fit.reduced === null ? "no-freedom" : fit.fits ? "fits" : "misfit";
  const [first = ""] = fitFindings(fit)
    .filter((finding) => finding.code === code)
    .map(({ text }) => text.split(/(?<=\.) (?=Either)/)[0] ?? "");
  const farthest = all.map(({ series }) => ({ name: series.name, by: farthestOff(series) }));
  const most = Math.max(...farthest.map(({ by }) => by));
  const which = farthest.filter(({ by }) => by === most).map(({ name }) => name);
  return most === 0
    ? `${first} Every count here is met exactly.${more}`
    : `${first} The farthest off is a count of ${listedShort(which, 2)}, by ${number(most, 1)} items.${more}`;
}

function farthestOff({ observed, fitted }: FittedSeries): number {
  return Math.max(0, ...observed.map((count, row) => (count === null ? 0 : Math.abs(count - (fitted[row] ?? 0)))));
}

export function minutesOrHours({ times_min: times }: Fit): { readonly scale: number; readonly title: string } {
  const inHours = (times.at(-1) ?? 0) > 300;
  return { scale: inHours ? 1 / 60 : 1, title: inHours ? "hours" : "minutes" };
}
