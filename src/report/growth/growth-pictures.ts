/** A chain lengthened machine by machine: times, and items, over the number of machines. */
import type { Growth, GrowthStep } from "../../study/results.ts";
import { type Curves, curvesPicture } from "../chart/curves.ts";
import { acrossAxis, label, type Picture } from "../chart/frame.ts";
import { ALERT } from "../chart/palette.ts";
import { items, number, plain } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";
import { growthFindings } from "./growth-findings.ts";

export function growthTimesPicture(growth: Growth): Picture {
  const finding = growthFindings(growth).find(({ code }) => code === "settling")?.text;
  return sizesPicture(growth, {
    shown: "Ramp-up over the number of machines",
    finding: plain(finding ?? "No two sizes settle within the horizon."),
    y: "time from the start, minutes",
    unit: " min",
    decimals: 1,
    curves: [
      { name: "full output", of: (step) => step.settling_min },
      { name: "95 %", of: (step) => step.within_tolerance_min },
    ],
  });
}

export function growthItemsPicture(growth: Growth): Picture {
  const found = growthFindings(growth).find(({ code }) => code === "items")?.text;
  const last = growth.sizes.at(-1);
  const held = last === undefined ? "There are no sizes." : `At last ${items(last.hold_up_settled)} lie on the line.`;
  return sizesPicture(growth, {
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

type Content = Pick<Curves<GrowthStep>, "shown" | "finding" | "y" | "unit" | "decimals" | "curves">;

function sizesPicture({ title, group, sizes, too_small: small }: Growth, content: Content): Picture {
  const first = sizes[0]?.machines ?? 0;
  const last = Math.max(first + 1, sizes.at(-1)?.machines ?? 1);
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
  return curvesPicture({
    ...content,
    scenarioTitle: title,
    x: acrossAxis(`machines in group ${label(oneLine(group))}`, last, first, true),
    points: sizes,
    at: (step) => step.machines,
    isProved: (step) => step.proved,
    marks,
    joined: true,
  });
}
