/**
 * Plants without machines: what leaves by the outlets is the output. Nothing is in the way here, so that flows part as dividers do
 * (halves along a chain), an outlet's items have come along its belts, and by Little's law (Operations Research 9(3), 1961) the line
 * holds each one's rate times its way, which is also what the ramp-up costs.
 */
import fc from "fast-check";
import { expect, test } from "vitest";
import { analyse, prepare, type Result, type Run, readScenario, simulate, solveFlow } from "../../src/index.ts";
import { approximate, exact, ratio, rational, sum } from "../../src/quantity/rational.ts";

function played(text: string): { readonly run: Run; readonly result: Result } {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  const prepared = prepare(outcome.scenario);
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
  const { program, horizonTicks, network } = prepared;
  const run = simulate(program, { horizonTicks, check: true });
  return { run, result: analyse(run, outcome.scenario, solveFlow(network), []).result };
}

interface Split {
  readonly layout: string;
  readonly outlets: number;
  readonly perMin: number;
  readonly metres: number;
  readonly horizon: string;
  readonly feed?: string;
}

function split({ layout, outlets, perMin, metres, horizon, feed = `rate: ${perMin}/min` }: Split): string {
  const names = Array.from({ length: outlets }, (_, i) => `out-${i + 1}`);
  const belt = `{ length: ${metres} m, speed: 24 m/min, pitch: 100 mm }`;
  return `horizon: ${horizon}
feeds: { source: { item: pouch, ${feed} } }
lines:
  main:
    layout: ${layout}
    from: source
    to: [${names.join(", ")}]
    ${layout === "tree" ? "ways: 12\n    " : ""}belt: ${belt}
outlets:
${names.map((name) => `  ${name}: { item: pouch }`).join("\n")}
`;
}

test("five outlets of one divider, by hand: 2 x 7.5 s of belt at 120/min", () => {
  const { result } = played(split({ layout: "tree", outlets: 5, perMin: 120, metres: 3, horizon: "1 h" }));
  expect(result.output).toMatchObject({ full_per_min: "120", settled_per_min: "120", made_by_item: { pouch: 7170 } });
  expect(result.outlets.map((one) => one.settled_per_min)).toEqual(["24", "24", "24", "24", "24"]);
  expect(result.dwell).toMatchObject({ mean_min: 0.25, longest_min: 0.25 });
  expect(result.hold_up.settled).toBe(30);
  expect(result.output.ramp_up_loss).toBeCloseTo(30, -0.5);
  expect(result.settling).toMatchObject({ proved: true, flow_time_min: "0" });
  // The first comes after 15 s and half a second's gap at the feed; one each 2.5 s leaves by each outlet.
  expect(result.settling.time_min).toBeGreaterThan(15 / 60);
  expect(result.settling.time_min).toBeLessThan((15.5 + 2.5) / 60);
});

test("what leaves comes by the dividers' shares, and costs what the line holds", () => {
  const any = fc.record({
    layout: fc.constantFrom("tree", "chain"),
    outlets: fc.integer({ min: 2, max: 7 }),
    perMin: fc.integer({ min: 10, max: 230 }),
    metres: fc.integer({ min: 1, max: 6 }),
    horizon: fc.constant("3 h"),
  });
  fc.assert(
    fc.property(any, (given) => {
      const { run, result } = played(split(given));
      const { layout, outlets, perMin } = given;
      expect(result.settling.proved).toBe(true);
      const shares = Array.from({ length: outlets }, (_, i) =>
        layout === "tree" ? ratio(1n, BigInt(outlets)) : ratio(1n, 2n ** BigInt(Math.min(i + 1, outlets - 1))),
      ).map((share) => share.mul(BigInt(perMin)));
      expect(result.outlets.map((one) => one.settled_per_min)).toEqual(shares.map(exact));
      expect(result.output.settled_per_min).toBe(exact(sum(shares)));
      // A belt's time is rounded to ticks.
      const tickMin = approximate(run.program.tickS) / 60;
      const onBelts = run.program.network.connections.reduce((held, { id, belt }) => {
        const perMin = rational(result.belts.find((one) => one.id === id)?.settled_per_min ?? "0");
        return held + approximate(perMin) * (belt ? approximate(belt.transitMin) : 0);
      }, 0);
      expect(Math.abs(result.hold_up.settled - onBelts)).toBeLessThanOrEqual(2 * outlets * perMin * tickMin + 1e-9);
      expect(result.hold_up.settled).toBeCloseTo(perMin * (result.dwell.mean_min ?? Number.NaN), 6);
      expect(Math.abs((result.output.ramp_up_loss ?? Number.NaN) - result.hold_up.settled)).toBeLessThan(
        1 + outlets / 2,
      );
    }),
    { numRuns: 15 * Number(process.env.FILLFRONT_CASES ?? 1) },
  );
});

test("where nothing recurs in time the flows settle it: halves of 2,048 items", () => {
  const text = split({ layout: "chain", outlets: 12, perMin: 120, metres: 1, horizon: "10 min" });
  const { result } = played(text);
  expect(result.settling.basis).toBe("flow");
  expect(result.output.settled_per_min).toBe("120");
  expect(result.outlets.at(-1)?.settled_per_min).toBe("15/256");
});

test("a feed that changes, and vehicles", () => {
  const feed = "profile: [{ from: 0 min, rate: 60/min }, { from: 10 min, rate: 120/min }]";
  const changing = played(split({ layout: "tree", outlets: 3, perMin: 0, metres: 3, horizon: "1 h", feed })).result;
  expect(changing.settling).toMatchObject({ counted_from_min: 10, proved: true });
  expect(changing.output.settled_per_min).toBe("120");
  // Twice as much is on its way.
  expect(changing.output.ramp_up_loss).toBeCloseTo(15, -0.5);

  const batch = "batch: { every: 10 min, items: 600, rate: 120/min }";
  const vehicles = played(
    split({ layout: "tree", outlets: 3, perMin: 0, metres: 3, horizon: "2 h", feed: batch }),
  ).result;
  expect(vehicles.output.settled_per_min).toBe("60");
  expect(vehicles.outlets.map((one) => one.settled_per_min)).toEqual(["20", "20", "20"]);
});

test("neither machines nor outlets: what is missing is told once", () => {
  const outcome = readScenario(
    "feeds: { source: { item: pouch, rate: 10/min } }\nlines: { main: { layout: chain, from: source, to: [], belt: none } }\n",
  );
  expect(outcome.ok || outcome.findings.map(({ code }) => code)).toContain("missing-key");
});
