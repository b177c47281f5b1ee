/** A chain lengthened machine by machine: times, and items, over the number of machines. */
import type { Growth, GrowthStep } from "../../study/results.ts";
import { items, number, plain } from "../figures.ts";
import { growthFindings } from "../growth/growth-findings.ts";
import { ALERT, lineStyle, PAPER } from "../palette.ts";
import { oneLine } from "../text-width.ts";
import { type EndLabel, endLabelRoom, endLabels } from "./end-labels.ts";
import { acrossAxis, label, type Picture, type PictureDataset, picture, valueAxis } from "./frame.ts";
import { type KeyEntry, key } from "./key.ts";
import { timeMarks } from "./marks.ts";

interface Curve {
  readonly name: string;
  readonly of: (step: GrowthStep) => number | null;
}

export function growthTimesPicture(growth: Growth): Picture {
  const finding = growthFindings(growth).find(({ code }) => code === "settling")?.text;
  return sizesPicture(growth, {
    file: "growth.png",
    shown: "Ramp-up over the number of machines",
    finding: plain(finding ?? "No two sizes settle within the horizon."),
    y: "time from the start, minutes",
    unit: " min",
    decimals: 1,
    curves: [
      { name: "settled for good", of: (step) => step.settling_min },
      { name: "within tolerance", of: (step) => step.within_tolerance_min },
    ],
  });
}

export function growthItemsPicture(growth: Growth): Picture {
  const found = growthFindings(growth).find(({ code }) => code === "items")?.text;
  const last = growth.sizes.at(-1);
  const held = last === undefined ? "There are no sizes." : `At last ${items(last.hold_up_settled)} lie on the line.`;
  return sizesPicture(growth, {
    file: "growth-items.png",
    shown: "Loss and hold-up over the number of machines",
    finding: plain(found ?? held),
    y: "items",
    unit: "",
    decimals: 0,
    curves: [
      { name: "ramp-up loss", of: (step) => step.ramp_up_loss },
      { name: "settled hold-up", of: (step) => step.hold_up_settled },
    ],
  });
}

interface Content {
  readonly file: string;
  readonly shown: string;
  readonly finding: string;
  readonly y: string;
  /** Of the figures at the ends of the lines. */
  readonly unit: string;
  readonly decimals: number;
  readonly curves: readonly Curve[];
}

/** More points would run into one another. */
const MOST_MARKED = 60;

function sizesPicture({ title, group, sizes, too_small: small }: Growth, content: Content): Picture {
  const first = sizes[0]?.machines ?? 0;
  const last = Math.max(first + 1, sizes.at(-1)?.machines ?? 1);
  const values = content.curves.flatMap(({ of }) => sizes.map((step) => of(step) ?? 0));
  const top = Math.max(1e-3, ...values) * 1.12;
  const labels = content.curves.flatMap(({ name, of }, index): EndLabel[] => {
    const value = sizes.reduce<number | null>((latest, step) => of(step) ?? latest, null);
    const style = lineStyle(index);
    if (value === null) return [];
    return [
      { text: `${name} ${plain(number(value, content.decimals))}${content.unit}`, value, colour: style.colour, style },
    ];
  });
  const marks =
    small === null
      ? []
      : [
          {
            at: small.from_machines,
            text: `${label(small.belt)} too small from ${number(small.from_machines)} on`,
            colour: ALERT,
            dash: [4, 5],
          },
        ];
  return picture({
    file: content.file,
    shown: content.shown,
    scenarioTitle: title,
    finding: content.finding,
    plotHeight: 480,
    x: acrossAxis(`machines in group ${label(oneLine(group))}`, last, first, true),
    y: valueAxis(content.y, top, Math.min(0, ...values)),
    datasets: content.curves.map((curve, index) => curveDataset(curve, index, sizes)),
    plugins: [timeMarks(marks), endLabels(labels), key(keyEntries(sizes))],
    right: endLabelRoom(labels),
    withKey: keyEntries(sizes).length > 0,
  });
}

function curveDataset({ name, of }: Curve, index: number, sizes: readonly GrowthStep[]): PictureDataset {
  const style = lineStyle(index);
  return {
    label: name,
    // A size without the figure leaves a gap.
    data: sizes.map((step) => ({ x: step.machines, y: of(step) ?? Number.NaN })),
    borderColor: style.colour,
    borderDash: [...style.dash],
    borderWidth: 3.5,
    pointStyle: style.marker,
    pointRadius: sizes.length <= MOST_MARKED ? 6 : 0,
    pointBorderWidth: 2.5,
    pointBorderColor: style.colour,
    pointBackgroundColor: sizes.map(({ proved }) => (proved ? style.colour : PAPER)),
    clip: false,
  };
}

function keyEntries(sizes: readonly GrowthStep[]): KeyEntry[] {
  if (sizes.length > MOST_MARKED || sizes.every(({ proved }) => proved)) return [];
  return [{ kind: "dot", text: "hollow: settling not proved" }];
}
