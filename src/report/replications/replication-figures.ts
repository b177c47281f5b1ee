/** The figures of replications by name, as tables and findings have them. */
import type { ReplicatedFigure, Replications } from "../../analysis/chance-results.ts";
import { items, number, percent, rate, significant } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";

export interface NamedFigure {
  readonly name: string;
  readonly unit: string;
  readonly figure: ReplicatedFigure | null;
  /** For a table, in the unit. */
  readonly cell: (value: number) => string;
}

export function namedFigures(replications: Replications): NamedFigure[] {
  const { machines } = replications;
  return [
    {
      name: "settled output",
      unit: "items/min",
      figure: replications.settled_output_per_min,
      cell: (value) => significant(value),
    },
    { name: "ramp-up loss", unit: "items", figure: replications.ramp_up_loss, cell: (value) => number(value) },
    { name: "settled hold-up", unit: "items", figure: replications.hold_up_settled, cell: (value) => number(value) },
    { name: "made in all", unit: "items", figure: replications.made, cell: (value) => number(value) },
    ...machines.map(({ id, uptime }) => ({
      name: `uptime of ${oneLine(id)}`,
      unit: "%",
      figure: uptime,
      cell: (value: number) => number(100 * value, 1),
    })),
  ];
}

type Said = (value: number) => string;
export const inItems: Said = (value) => (value < 0 ? `\u2212${items(-value)}` : items(value));
export const inRate: Said = rate;
export const inPercent: Said = percent;

/** "213.4/min (95 % interval 212.9/min to 213.9/min; of the runs, 5 to 95 % lie between 205/min and 221/min)" */
export function saidFully({ mean, ci95, p5, p95 }: ReplicatedFigure, said: Said): string {
  const interval = ci95 === null ? "" : `${INTERVAL} ${said(ci95[0])} to ${said(ci95[1])}; `;
  return p5 === p95 ? said(mean) : `${said(mean)} (${interval}nine runs in ten between ${said(p5)} and ${said(p95)})`;
}

const INTERVAL = "95\u00a0% interval";
