/**
 * Published and exact values against simulated ones, with fewer replications than `npm run published` has and fixed seeds. Each
 * value must lie in its interval, widened so that all of them hold together with 99 % (Bonferroni).
 */
import { describe, expect, test } from "vitest";
import { pairStudies } from "./bernoulli.ts";
import { batchMeansCoverage, type Coverage, replicationsCoverage, warmUpBias } from "./coverage.ts";
import { falseWinnersOfLayouts, falseWinnersOfTactics, mostFalse } from "./false-winners.ts";
import { feedStudies, gateStudies } from "./feeds.ts";
import { COVERAGE_LINES, heldIn, heldRows, leastOf, truthOf } from "./interval-coverage.ts";
import { lineStudies, longLineStudies } from "./lines.ts";
import { finiteQueueStudies, waitStudies } from "./queues.ts";
import { judged, type Row, rowsOf, type Study } from "./study.ts";
import { transientStudies } from "./transients.ts";
import { flowStudies, geometricStudies } from "./unreliable.ts";

/** On a busy machine. */
const LONG_MS = 180_000;

/** What lies outside, in words. */
function outside(rows: readonly Row[]): string[] {
  return judged(rows).flatMap(({ study, known, found, isAllowed }) =>
    isAllowed ? [] : [`${study}: ${known.figure} is ${found.mean}, known ${known.value}`],
  );
}

function few(studies: readonly Study[], choose: (study: Study, index: number) => boolean = () => true): Row[] {
  return studies.filter(choose).flatMap((study) => rowsOf(study, study.fewer, "test"));
}

describe("two Bernoulli machines", () => {
  test("rate, mean level, blocked and starved shares as in the book", { timeout: LONG_MS }, () => {
    expect(outside(few(pairStudies()))).toEqual([]);
  });

  test("transients slot by slot, and the fuller the start, the less is lost", { timeout: LONG_MS }, () => {
    const rows = few(transientStudies(), (_, i) => i < 3);
    expect(outside(rows)).toEqual([]);
    const losses = judged(rows).filter(({ known }) => known.figure.startsWith("loss"));
    expect(losses.length).toBe(3);
    // From empty, half-full, full: the interval of each difference (the two halves at a right angle) lies above zero.
    for (const [i, { found, halfWidth }] of losses.entries()) {
      const fuller = losses[i + 1];
      if (fuller) expect(found.mean - fuller.found.mean).toBeGreaterThan(Math.hypot(halfWidth, fuller.halfWidth));
    }
  });

  test("a wrong rate would be seen", () => {
    const [study] = pairStudies();
    if (study === undefined) throw new Error("no study");
    const rows = rowsOf(study, study.fewer, "test").map((row) => ({
      ...row,
      // The rate of a line whose machines both look at the old level differs by 0.4 % (test/reference).
      known: { ...row.known, value: row.known.value * 1.004 },
    }));
    expect(outside(rows)).toHaveLength(1);
  });
});

describe("longer lines", () => {
  test("as their chain has them, the book's near by, the aggregation within 2 %", { timeout: LONG_MS }, () => {
    expect(outside(few([...lineStudies(), ...longLineStudies()], (_, i) => i % 2 === 0))).toEqual([]);
  });
});

describe("unreliable machines and queues, in the limit of short ticks", () => {
  test("two machines with geometric times, and with exponential times and a flow", { timeout: LONG_MS }, () => {
    expect(outside(few([...geometricStudies(), ...flowStudies()], (_, i) => i === 0 || i === 6))).toEqual([]);
  });

  test("losses, numbers, waits; as many arrivals find a queue full as there is time for which it is", {
    timeout: LONG_MS,
  }, () => {
    expect(outside(few([...finiteQueueStudies(), ...waitStudies()], (_, i) => i % 3 === 0))).toEqual([]);
  });
});

describe("feeds left to chance", () => {
  test("deliver their stated mean, whatever the family and however little the belt has to spare", {
    timeout: LONG_MS,
  }, () => {
    expect(outside(few(feedStudies(), (_, i) => i % 3 === 1))).toEqual([]);
  });

  test("have at their gate what an M/D/1 has waiting, less one", { timeout: LONG_MS }, () => {
    expect(outside(few(gateStudies()))).toEqual([]);
  });
});

test.each([
  ["tactics", falseWinnersOfTactics],
  ["layouts", falseWinnersOfLayouts],
])("equal %s: a winner in one of twenty comparisons at most, going on or not", { timeout: LONG_MS }, (_, winnersOf) => {
  const { of, atFirst, goingOn } = winnersOf(15, "test");
  expect({ of, isMore: goingOn >= atFirst }).toEqual({ of: 15, isMore: true });
  expect(goingOn).toBeLessThanOrEqual(mostFalse(of));
});

describe("95 % intervals hold what is known 93 to 97 times in 100", () => {
  const share = ({ held, of }: Coverage): number => held / of;

  test("of replications", { timeout: LONG_MS }, () => {
    expect(Math.abs(warmUpBias())).toBeLessThan(1e-5);
    const found = replicationsCoverage(300);
    expect(found.of).toBe(300);
    expect(share(found)).toBeGreaterThanOrEqual(0.93);
    expect(share(found)).toBeLessThanOrEqual(0.97);
  });

  test("as printed, on a line that nothing was tuned to", { timeout: LONG_MS }, () => {
    const [line] = COVERAGE_LINES;
    const rows = heldRows(line, heldIn(line, truthOf(line, 60), 60), 60);
    expect(rows.length).toBe(5);
    for (const row of rows) {
      expect(row.held / row.printed, row.figure).toBeGreaterThanOrEqual(leastOf(row));
      if (row.figure !== "hold-up") expect(row.printed, row.figure).toBeGreaterThanOrEqual(0.8 * row.of);
    }
  });

  test("of batch means", { timeout: LONG_MS }, () => {
    const found = batchMeansCoverage(200);
    expect(found.none).toBeLessThan(20);
    expect(share(found)).toBeGreaterThanOrEqual(0.93);
    expect(share(found)).toBeLessThanOrEqual(0.97);
  });
});
