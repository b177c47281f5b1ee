import { test } from "vitest";
import { COVERAGE_LINES, heldIn, truthOf } from "../published/interval-coverage.ts";
const T = Number(process.env.TIMES ?? 100);
test.each(COVERAGE_LINES.map((l) => [l.name, l] as const))("%s", (name, line) => {
  let t0 = Date.now();
  const truth = truthOf(line, 100);
  console.log(name, truth.perMin, truth.held, truth.uptimes, (Date.now() - t0) / 1000);
  t0 = Date.now();
  for (const [f, { held, printed, bias }] of heldIn(line, truth, T)) console.log(name, f, "printed", printed, "of", T, "held", (100 * held / printed).toFixed(1), "bias", (bias/printed*100).toFixed(3)+"%");
  console.log((Date.now() - t0) / 1000);
}, 3600000);
