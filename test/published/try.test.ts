import { test } from "vitest";
import { transientStudies } from "./transients.ts";
import { judged, rowsOf } from "./study.ts";
test("try", () => {
  for (const s of transientStudies()) {
    const t = performance.now();
    const rows = judged(rowsOf(s, 2000));
    const bad = rows.filter(r => !r.isInside);
    const r = rows[0]!;
    console.log(r.study, r.figure, r.known.toFixed(6), r.mean.toFixed(6), (100*r.halfWidth).toFixed(3)+"%", r.isInside, r.isAllowed, bad.length, bad.map(b => b.figure + " " + b.known + " " + b.mean + " " + b.isAllowed), ((performance.now() - t)/1000).toFixed(2));
  }
}, 600000);
