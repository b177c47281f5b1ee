/** Awkward cycles: hundreds are solved exactly, of more the flow solution is refused at once with what to do. */
import { expect, test } from "vitest";
import { prepare, readScenario, solveFlow } from "../../src/index.ts";

function awkward(count: number, cycle: (machine: number) => string) {
  const machines = Array.from({ length: count }, (_, i) => i);
  const text = JSON.stringify({
    horizon: "1 h",
    feeds: { oven: { item: "pack", rate: `${Math.min(count * 40, 59_000)}/min` } },
    machines: Object.fromEntries(
      machines.map((i) => [`m${i}`, { cycle: cycle(i), takes: { pack: 1 }, makes: { box: 1 }, infeed: 20 }]),
    ),
    lines: { main: { layout: "chain", from: "oven", to: machines.map((i) => `m${i}`), belt: "none", branch: "none" } },
  });
  const read = readScenario(text);
  const prepared = read.ok ? prepare(read.scenario) : read;
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
  return solveFlow(prepared.network);
}

test("a hundred and fifty cycles without a common measure", () => {
  const solution = awkward(150, (i) => `${1_234_567 + 37 * i}/${999_983 - 2 * i} s`);
  if (!solution.applies) throw new Error(solution.reason);
  expect(solution.settlingMin.d > 10n ** 5000n).toBe(true);
  expect(solution.settledPerMin.compare(solution.fullPerMin)).toBeLessThanOrEqual(0);
});

test("too many are named", () => {
  const solution = awkward(900, (i) => `${1_234_567 + 37 * i}/999983 s`);
  expect(solution).toMatchObject({
    applies: false,
    reason: expect.stringMatching(/that of m\d+ has .* \d+ digits .* 2\.35 s/),
  });
});
