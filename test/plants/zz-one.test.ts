import fc from "fast-check";
import { test } from "vitest";
import { collectingLines, fileOf } from "./collecting-lines.ts";
import { writeFileSync } from "node:fs";
test("print", () => {
  const lines = fc.sample(collectingLines, { numRuns: 500, seed: 7 });
  for (const i of (process.env.I ?? "13").split(",")) writeFileSync(`/tmp/rates/line${i}.yaml`, fileOf(lines[Number(i)]!, "auto"));
});
