/** fit.csv: a row for each observed count. */
import type { Fit } from "../../study/fit/fit-results.ts";
import { csv } from "../text/csv.ts";

export function fitCsv({ times_min: times, series }: Fit): string {
  return csv([
    ["time_min", "observed", "count_items", "fitted_items", "residual_items", "expected_error_items"],
    ...series.flatMap(({ name, observed, fitted, error }) =>
      times.flatMap((time, row) => {
        const count = observed[row] ?? null;
        const at = fitted[row] ?? 0;
        return count === null ? [] : [[time, name, count, at, count - at, error]];
      }),
    ),
  ]);
}
