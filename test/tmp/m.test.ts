import { test } from "vitest";
import { mser5 } from "../../src/analysis/statistics/mser.ts";
import { meansOfBatches } from "../../src/analysis/statistics/batches.ts";
import { rampUpEnd } from "../../src/analysis/statistics/ramp-up-end.ts";
function gauss() { let s = 0; for (let i = 0; i < 12; i++) s += Math.random(); return s - 6; }
test("x", () => {
  for (const [len, least, phi] of [[960, 3, 0], [960, 3, 0.9], [960, 1, 0.9], [4096, 20, 0.98], [960, 3, 0.97]] as const) {
    const out: Record<string, number> = {};
    const per: Record<string, number> = {};
    for (let k = 0; k < 1000; k++) {
      const x: number[] = []; let a = gauss() / Math.sqrt(1 - phi * phi);
      for (let i = 0; i < len; i++) { a = phi * a + gauss(); x.push(a); }
      const r = rampUpEnd(x, least);
      const key = r.found ? (r.cut === 0 ? "0" : r.cut <= len / 16 ? "1/16" : r.cut <= len / 8 ? "1/8" : r.cut <= len / 4 ? "1/4" : "1/2") : r.why;
      out[key] = (out[key] ?? 0) + 1;
      for (let size = least; Math.floor(len / size) >= 50; size *= 2) { const f = mser5(meansOfBatches(x, size)); if (!f.found) per[size] = (per[size] ?? 0) + 1; }
    }
    console.log(len, least, phi, JSON.stringify(out), "beyond by size", JSON.stringify(per));
  }
}, 100000);
