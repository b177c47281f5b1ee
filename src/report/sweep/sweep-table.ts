/** The table of a sweep: a row for each point. */
import type { Sweep, SweepPoint } from "../../study/sweep/sweep-results.ts";
import { settlingOrDash } from "../text/cells.ts";
import { count, exactRate, flag, minutes, quantity, rate, type StudyColumn, text } from "../text/study-table.ts";
import { outputPerMin, quantityHeading } from "./sweep-figures.ts";

export function sweepColumns({ quantities }: Sweep): StudyColumn<SweepPoint>[] {
  return [
    count(({ point }) => point, { csv: "point" }),
    ...quantities.map((swept, q): StudyColumn<SweepPoint> => {
      const { path, values, numbers } = swept;
      const written = ({ values: all }: SweepPoint): string => all[q] ?? "";
      return quantity(written, {
        csv: quantityHeading(swept),
        markdown: path,
        // Broken at its dots, so that the column is no wider than its longest name.
        terminal: [path.split("."), 99 - q],
        value: (point) => numbers?.[values.indexOf(written(point))] ?? written(point),
      });
    }),
    minutes(({ settling_min: at }) => at, {
      csv: "settling_min",
      markdown: "settles at, min",
      terminal: ["settles|at|min", 10],
      inFull: ({ settling_min: at, proved }) => settlingOrDash(at, proved),
    }),
    flag(({ proved }) => proved, { csv: "proved" }),
    minutes(({ stops_at_min: at }) => at, { csv: "stops_at_min" }),
    minutes(({ within_tolerance_min: at }) => at, {
      csv: "within_tolerance_min",
      markdown: "95 % from, min",
      terminal: ["95 %|from|min", 6],
    }),
    count(({ ramp_up_loss: loss }) => loss, {
      csv: "ramp_up_loss_items",
      markdown: "lost, items",
      terminal: ["lost|items", 9],
    }),
    rate(outputPerMin, {
      csv: "long_run_items_per_min",
      markdown: "long run, items/min",
      terminal: ["long-run|/min", 8],
    }),
    text(({ basis }) => basis, { csv: "basis" }),
    exactRate(({ full_per_min: full }) => full, {
      csv: "full_items_per_min",
      markdown: "full, items/min",
      terminal: ["full|/min", 7],
    }),
    count(({ made }) => made, { csv: "made_items" }),
    count(({ hold_up_settled: held }) => held, {
      csv: "hold_up_settled_items",
      markdown: "settled hold-up, items",
      terminal: ["hold-up|items", 5],
    }),
    count(({ hold_up_peak: peak }) => peak, {
      csv: "hold_up_peak_items",
      markdown: "highest hold-up, items",
      terminal: ["peak|items", 4],
    }),
  ];
}
