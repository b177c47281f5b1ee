/** Items on belts and in buffers over time, one kind laid on the other, with the peak marked. */
import type { LimitResult } from "../../analysis/plant-results.ts";
import type { Result } from "../../analysis/result.ts";
import type { Series } from "../../analysis/series.ts";
import { type EndLabel, endLabelRoom, endLabels } from "../chart/end-labels.ts";
import { label, type Picture, type PictureDataset, picture, valueAxis } from "../chart/frame.ts";
import { key } from "../chart/key.ts";
import { pointMark } from "../chart/marks.ts";
import { ALERT, AREA_COLOURS, INK, INK_SOFT } from "../chart/palette.ts";
import { shownPart, timeAxis } from "../chart/time-axis.ts";
import { duration, inMedianRun, items, number, plain } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";

interface Layer {
  readonly label: string;
  readonly level: readonly number[];
  /** Items once settled, or at the end of a run that is not proved to settle. */
  readonly settled: number;
}

/** A limit far above what lies there would leave no height for it. */
const LIMIT_SHOWN_TO = 2;
const LIMIT_DASH = [3, 5];

/** Of the limits on the whole plant, the one that comes nearest to being exceeded, or is furthest. */
function shownLimit({ limits }: Result): LimitResult | null {
  return limits
    .filter(({ what, place, limit, peak }) => what === "hold-up" && place === null && limit <= LIMIT_SHOWN_TO * peak)
    .reduce<LimitResult | null>(
      (worst, one) => (worst === null || one.peak * worst.limit > worst.peak * one.limit ? one : worst),
      null,
    );
}

/**
 * Every kind that ever lies on the line, one that is limited lowest, so that its limit can be read off; the last layer
 * gathers what there are no colours for.
 */
function layersOf(series: Series, settledOf: Readonly<Record<string, number>>, lowest: string | null): Layer[] {
  const kinds = series.holdUp
    .filter(({ level }) => level.some((count) => count > 0))
    .toSorted((a, b) => Number(b.item === lowest) - Number(a.item === lowest));
  const own = kinds.length > AREA_COLOURS.length ? kinds.slice(0, AREA_COLOURS.length - 1) : kinds;
  const rest = kinds.slice(own.length);
  const layers: Layer[] = own.map(({ item, level }) => ({
    label: label(item),
    level,
    settled: settledOf[item] ?? 0,
  }));
  if (rest.length > 0) {
    const level = series.timesMin.map((_, i) => rest.reduce((total, kind) => total + (kind.level[i] ?? 0), 0));
    const settled = rest.reduce((total, { item }) => total + (settledOf[item] ?? 0), 0);
    layers.push({ label: `${rest.length} other kinds`, level, settled });
  }
  return layers;
}

export function holdUpPicture(result: Result, whole: Series): Picture {
  const time = timeAxis(result, whole);
  const series = shownPart(whole, time);
  const { hold_up: holdUp } = result;
  const limit = shownLimit(result);
  const layers = layersOf(series, holdUp.by_item, limit?.item ?? null);
  const below = series.timesMin.map(() => 0);
  const datasets: PictureDataset[] = [];
  const labels: EndLabel[] = [];
  for (const [index, layer] of layers.entries()) {
    const foot = below.at(-1) ?? 0;
    for (const [i, level] of layer.level.entries()) below[i] = (below[i] ?? 0) + level;
    const data = below.map((y, i) => ({ x: (series.timesMin[i] ?? 0) * time.scale, y }));
    datasets.push({
      label: layer.label,
      data: [{ x: 0, y: 0 }, ...data],
      fill: index === 0 ? "origin" : "-1",
      backgroundColor: AREA_COLOURS[index % AREA_COLOURS.length] ?? INK_SOFT,
      borderColor: INK,
      borderWidth: index === layers.length - 1 ? 3.5 : 1.5,
      pointRadius: 0,
    });
    const end = layer.level.at(-1) ?? 0;
    const text = layers.length > 1 ? `${layer.label} ${plain(number(layer.settled))}` : layer.label;
    // From the top down, so that labels in one place keep the order of the layers.
    labels.unshift({ text, value: foot + end / 2, colour: INK_SOFT });
  }
  const across = (y: number) => ({
    data: [
      { x: 0, y },
      { x: time.end, y },
    ],
    pointRadius: 0,
  });
  datasets.unshift({
    label: "settled",
    ...across(holdUp.settled),
    borderColor: INK,
    borderWidth: 2.5,
    borderDash: [10, 6],
  });
  if (limit !== null) {
    datasets.unshift({
      label: "limit",
      ...across(limit.limit),
      borderColor: ALERT,
      borderWidth: 3,
      borderDash: LIMIT_DASH,
    });
  }
  const word = result.settling.proved ? "settled" : "at the end";
  labels.unshift({
    text: `${word} ${plain(number(holdUp.settled))}`,
    value: Math.max(holdUp.settled, labels[0]?.value ?? 0),
    colour: INK,
    bold: true,
  });
  const peakAt = Math.min(holdUp.peak_at_min * time.scale, time.end);
  return picture({
    shown: `Items on belts and in buffers${inMedianRun(result)}`,
    scenarioTitle: result.title,
    finding: findingOf(result, limit),
    plotHeight: 480,
    time,
    y: valueAxis("items", Math.max(1, holdUp.peak, limit?.limit ?? 0, ...below) * 1.18),
    datasets,
    plugins: [
      endLabels(labels),
      pointMark({
        at: peakAt,
        value: holdUp.peak,
        text: `peak ${plain(number(holdUp.peak))} at ${plain(duration(holdUp.peak_at_min))}`,
      }),
      key([
        { kind: "line", text: `${word}, all kinds`, colour: INK, width: 2.5, dash: [10, 6] },
        ...(limit === null
          ? []
          : [
              {
                kind: "line" as const,
                text: `limit on ${label(limit.item ?? "")} (${plain(number(limit.limit))})`,
                colour: ALERT,
                width: 3,
                dash: LIMIT_DASH,
              },
            ]),
      ]),
    ],
    right: endLabelRoom(labels),
    withKey: true,
  });
}

/** Of the limits, the one that is drawn, or where that is kept, the one that is exceeded longest. */
function findingOf({ hold_up: holdUp, settling, limits }: Result, drawn: LimitResult | null): string {
  const peak = `Peak ${items(holdUp.peak)} at ${duration(holdUp.peak_at_min)}`;
  const settled = settling.proved ? `settled at ${items(holdUp.settled)}` : `${items(holdUp.settled)} at the end`;
  const said = drawn !== null && isOver(drawn) ? drawn : longestOver(limits);
  return plain(`${peak}; ${settled}${said === null ? "" : overText(said)}.`);
}

function isOver({ over_min: over }: LimitResult): boolean {
  return over !== null && over > 0;
}

function longestOver(limits: readonly LimitResult[]): LimitResult | null {
  const [longest] = limits.filter(isOver).toSorted((a, b) => (b.over_min ?? 0) - (a.over_min ?? 0));
  return longest ?? null;
}

function overText({ place, item, over_min: over }: LimitResult): string {
  const what = item === null ? "" : ` on ${oneLine(item)}`;
  const where = place === null ? "" : ` at ${oneLine(place)}`;
  return `; over the limit${what}${where} for ${duration(over ?? 0)}`;
}
