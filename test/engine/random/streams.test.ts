/** Streams: named, even, and independent of one another. */
import { describe, expect, test } from "vitest";
import { namedStream } from "../../../src/engine/random/stream.ts";
import { correlation, evenness, pairEvenness, take } from "./fit.ts";

const N = 100_000;

test("the same name and seed give the same numbers, now and later", () => {
  // Golden: if they change, so does every result under chance.
  expect(take(3, namedStream("1", "cartoner-1", "up-time"))).toEqual([
    0.6173747190605341, 0.6399032536521063, 0.86740231784105,
  ]);
  expect(take(3, namedStream("spring-1", "blender", "interval"))).toEqual([
    0.3623890045527218, 0.06840519140820345, 0.9113004121384947,
  ]);
});

test("however texts are divided among seed, element and purpose, the streams differ", () => {
  const triples: [string, string, string][] = [
    ["1", "2", "3"],
    ["12", "", "3"],
    ["", "12", "3"],
    ["1", "23", ""],
    ['1","2', "", "3"],
    ['1","2","3', "", ""],
    ["1 2", "3", ""],
    ["1", "2 3", ""],
    ["1,2", "3", ""],
    ["3", "2", "1"],
  ];
  expect(new Set(triples.map((triple) => namedStream(...triple)())).size).toBe(triples.length);
});

test("all 53 bits are drawn, and the last ones are as even as the first", () => {
  const draws = take(N, namedStream("1", "m", "up-time"));
  const rest = draws.map((u) => (u * 2 ** 32) % 1);
  expect(draws.every((u) => u >= 0 && u < 1 && Number.isInteger(u * 2 ** 53))).toBe(true);
  expect(evenness(draws, 1000)).toBeLessThan(1);
  expect(evenness(rest, 1000)).toBeLessThan(1);
  expect(new Set(draws).size).toBe(N);
});

describe("independence", () => {
  const own = take(N, namedStream("1", "cartoner-1", "up-time"));
  const others: [string, number[]][] = [
    ["another purpose", take(N, namedStream("1", "cartoner-1", "repair"))],
    ["the next machine", take(N, namedStream("1", "cartoner-2", "up-time"))],
    ["a machine further on", take(N, namedStream("1", "cartoner-11", "up-time"))],
    ["another seed", take(N, namedStream("2", "cartoner-1", "up-time"))],
    ["a seed with a letter more", take(N, namedStream("1a", "cartoner-1", "up-time"))],
    ["its own next number", own.with(-1, 0.5).map((_, i) => own[i + 1] ?? 0.5)],
  ];

  test.each(others)("of a stream and %s", (_, other) => {
    expect(correlation(own, other)).toBeLessThan(1);
    expect(pairEvenness(own, other, 32)).toBeLessThan(1);
  });

  test("the tests refuse what depends a little", () => {
    const other = others[1]?.[1] ?? [];
    const mixed = own.map((u, i) => (i % 20 === 0 ? u : (other[i] ?? 0)));
    expect(correlation(own, mixed)).toBeGreaterThan(1);
    expect(pairEvenness(own, mixed, 32)).toBeGreaterThan(1);
    // Uncorrelated, and yet one decides the other.
    const tent = own.map((u) => Math.min(Math.abs(2 * u - 1), 1 - 2 ** -53));
    expect(correlation(own, tent)).toBeLessThan(1);
    expect(pairEvenness(own, tent, 32)).toBeGreaterThan(1);
    expect(
      evenness(
        own.map((u) => u ** 1.06),
        1000,
      ),
    ).toBeGreaterThan(1);
  });
});

/** A weak way from a name to a generator shows in the first numbers of streams whose names are alike. */
describe.each([0, 1, 2, 5])(
  "number %i of the streams of 20,000 machines, and of one machine under 20,000 seeds",
  (skip) => {
    const nth = (stream: () => number): number => take(skip + 1, stream)[skip] ?? Number.NaN;
    const machines = Array.from({ length: 20_000 }, (_, i) => nth(namedStream("1", `m-${i + 1}`, "up-time")));
    const seeds = Array.from({ length: 20_000 }, (_, i) => nth(namedStream(String(i + 1), "m", "up-time")));

    test.each([
      ["machines", machines],
      ["seeds", seeds],
    ])("%s: even, and neighbours independent", (_, draws) => {
      const next = draws.map((_u, i) => draws[(i + 1) % draws.length] ?? 0);
      const tenth = draws.map((_u, i) => draws[(i + 10) % draws.length] ?? 0);
      expect(evenness(draws, 500)).toBeLessThan(1);
      for (const other of [next, tenth]) {
        expect(correlation(draws, other)).toBeLessThan(1);
        expect(pairEvenness(draws, other, 20)).toBeLessThan(1);
      }
    });
  },
);
