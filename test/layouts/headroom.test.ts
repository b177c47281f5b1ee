/** What is said before anything is built: shares that cannot be made, belts that cannot carry their part. */
import { describe, expect, test } from "vitest";
import { carriedAtMost } from "../../src/network/headroom.ts";
import { exact, ratio, whole } from "../../src/quantity/rational.ts";
import type { FileFinding } from "../../src/scenario/file-finding.ts";
import { sentence } from "../../src/scenario/messages.ts";
import { findingsOf } from "./shared-lines.ts";

interface Given {
  readonly layout?: string;
  readonly count?: number;
  readonly cycle?: string;
  readonly feed?: string;
  readonly rate?: string;
  readonly more?: string;
  readonly branch?: string;
}

function plant({
  layout = "loop",
  count = 5,
  cycle = "4 s",
  feed = "75/min",
  rate = "120/min",
  more = "",
  branch,
}: Given) {
  return `horizon: 1 h
feeds: { silo: { item: can, rate: ${feed} } }
machines: { m: { count: ${count}, cycle: ${cycle}, takes: { can: 1 }, makes: { box: 1 }, infeed: 20 } }
lines:
  main:
    layout: ${layout}
    from: silo
    to: m
    belt: { rate: ${rate}, capacity: 10, transit: 2 s }
    branch: { rate: ${branch ?? "100/min"}, capacity: 10, transit: 2 s }
${more}`;
}

function brief({ severity, code, line, column }: FileFinding): string {
  return `${severity} ${code} ${line}:${column}`;
}

/** Common practice, no source: 75/min to five machines of 15 by a six-way split with one share returned. */
describe("75/min to five machines of 15", () => {
  test("90/min pass the merged stretch: fine on a belt of 120/min, and on one of 90", () => {
    expect(findingsOf(plant({}))).toEqual([]);
    expect(findingsOf(plant({ rate: "90/min" }))).toEqual([]);
    const [found] = findingsOf(plant({ rate: "89/min" }));
    expect(found?.args).toMatchObject({ found: "through-1", flow: "90/min", rate: "89/min", lack: "1/min" });
  });

  test("120/min cannot be had from a belt of 120/min; what would do is said", () => {
    const found = findingsOf(
      plant({ feed: "120/min", cycle: "2.5 s", more: "    return: { rate: 60/min, capacity: 9 }\n" }),
    );
    expect(found.map(brief)).toEqual(["warning belt-short 9:5"]);
    expect(found[0]?.args).toEqual({
      found: "through-1",
      flow: "144/min",
      rate: "120/min",
      lack: "24/min",
      // C n / L.
      input: "100/min",
      over: "20/min",
      // Four are a tree: 96/min, and nothing returns.
      alone: "m-1",
    });
    expect(sentence("belt-short", found[0]?.args ?? {})).toBe(
      '"through-1" is to carry 144/min, which is 24/min more than its 120/min; what would do: a belt of 144/min; ' +
        'a feed cut to 100/min first; "m-1" fed by a line of its own; a chain beside it for 20/min of the feed',
    );
  });

  test("the remedies named are remedies", () => {
    const given = { cycle: "2.5 s", more: "    return: { rate: 60/min, capacity: 9 }\n" };
    expect(findingsOf(plant({ ...given, feed: "120/min", rate: "144/min" }))).toEqual([]);
    expect(findingsOf(plant({ ...given, feed: "100/min" }))).toEqual([]);
    expect(findingsOf(plant({ ...given, feed: "101/min" })).map(({ code }) => code)).toEqual(["belt-short"]);
    expect(findingsOf(plant({ ...given, layout: "tree", count: 4, feed: "96/min", more: "" }))).toEqual([]);
  });

  test("no more is reckoned with than the machines need", () => {
    expect(findingsOf(plant({ feed: "600/min" }))).toEqual([]);
  });
});

test("branches and returns that are too slow: the worst of each, where it is stated", () => {
  const slow = plant({ branch: "14/min", more: "    return: { rate: 10/min, capacity: 9 }\n" });
  const found = findingsOf(slow);
  expect(found.map(brief)).toEqual(["warning belt-short 10:5", "warning belt-short 11:5"]);
  expect(found.map(({ args }) => [args.found, args.flow, args.input, args.alone])).toEqual([
    ["branch-1", "15/min", "70/min", ""],
    ["return", "15/min", "50/min", ""],
  ]);
});

test("feeds that join, and machines that are collected, come in together", () => {
  const text = `feeds: { a: { item: can, rate: 50/min }, b: { item: can, profile: [{ from: 0 min, rate: 10/min }, { from: 9 min, rate: 40/min }] } }
machines:
  m: { count: 5, cycle: 3 s, takes: { can: 1 }, makes: { box: 1 }, infeed: 20 }
  n: { count: 2, cycle: 2 s, takes: { box: 1 }, makes: { crate: 1 }, infeed: 20 }
lines:
  main: { layout: loop, from: [a, b], to: m, belt: { rate: 100/min, capacity: 10 } }
  next: { layout: tree, from: m, to: n, belt: { rate: 50/min, capacity: 10 } }
`;
  const found = findingsOf(text);
  // 50 + 40 fed; five machines of 20 make more than the two that follow can take, 60.
  expect(found.map(({ args }) => [args.found, args.flow])).toEqual([
    ["through-1", "108/min"],
    ["through-1", "60/min"],
  ]);
});

describe("shares that cannot be made", () => {
  test("a tree of five: an error with what would do", () => {
    const found = findingsOf(plant({ layout: "tree" }));
    expect(found.map(brief)).toEqual(["error tree-odd 6:5"]);
    expect(found[0]?.args).toMatchObject({
      total: "5",
      odd: "5",
      ways: "two and three ways",
      more: "[2, 3, 5]",
      parts: "6",
      back: "1",
      below: "4",
      above: "6",
    });
    expect(sentence("tree-odd", found[0]?.args ?? {})).toBe(
      "the needs come to 5 equal parts, which dividers of two and three ways cannot make; what would " +
        "do: ways: [2, 3, 5], or layout: loop, with 1 of 6 parts returned, or 4 or 6 machines, or a chain for the machines that are left over; with " +
        "layout: chain, fillfront layouts weighs these",
    );
  });

  test("a tree of three with dividers of two ways", () => {
    const [found] = findingsOf(plant({ layout: "tree", count: 3, more: "    ways: 2\n" }));
    expect(found?.args).toMatchObject({ odd: "3", parts: "4", more: "3", below: "2", above: "4" });
    expect(findingsOf(plant({ layout: "tree", count: 3 }))).toEqual([]);
    expect(findingsOf(plant({ layout: "loop", count: 3, more: "    ways: 2\n" }))).toEqual([]);
  });

  test("unequal needs: no other number of machines is named", () => {
    const text = plant({ layout: "tree", count: 3 }).replace("cycle: 4 s", "cycle: 4 s, speed: [40 %, 60 %, 100 %]");
    const [found] = findingsOf(text);
    expect(found?.args).toMatchObject({ total: "10", odd: "5", parts: "12", back: "2", below: "", above: "" });
  });

  test("a loop that returns nothing: a warning", () => {
    expect(findingsOf(plant({ count: 4 })).map(brief)).toEqual(["warning nothing-returns 6:5"]);
  });

  test("several kinds, a machine that wants nothing of it, shares too fine: errors where they are stated", () => {
    const kinds = plant({ layout: "tree", count: 4 }).replace("item: can", "items: { can: 1, jar: 1 }");
    const both = kinds.replace("takes: { can: 1 }", "takes: { can: 1, jar: 1 }");
    expect(findingsOf(both).map(brief)).toEqual(["error shared-kinds 7:5"]);
    const other = "n: { cycle: 4 s, takes: { box: 1 }, makes: { crate: 1 }, infeed: 20 }";
    const useless = plant({ layout: "tree", count: 3 }).replace("machines: {", `machines: { ${other},`);
    const [found] = findingsOf(useless.replace("to: m", "to: [m, n]"));
    expect(found).toMatchObject({ code: "shared-no-need", line: 8, args: { found: "n", kinds: "can" } });
  });

  test("shares too fine to count or to build", () => {
    // Cycles of prime numbers of seconds: the shares of three come to 298,214,463 parts, those of four to some 10^12.
    const machine = (seconds: number): string =>
      `m-${seconds}: { cycle: ${seconds} s, takes: { can: 1 }, makes: { box: 1 }, infeed: 20 }`;
    const primes = (seconds: readonly number[]): string =>
      plant({ layout: "loop" })
        .replace(/m: \{ count.*infeed: 20 \}/, seconds.map(machine).join(", "))
        .replace("to: m", `to: [${seconds.map((one) => `m-${one}`).join(", ")}]`);
    expect(findingsOf(primes([9973, 9967, 9949]))).toEqual([]);
    expect(findingsOf(primes([9973, 9967, 9949, 9941])).map(brief)).toEqual(["error shares-too-fine 8:5"]);
    const many = plant({ layout: "loop", count: 20_000, more: "    ways: 2\n" });
    const speeds = Array.from({ length: 20_000 }, (_, index) => (index % 2 === 0 ? "70 %" : "110 %"));
    const [found] = findingsOf(many.replace("cycle: 4 s", `cycle: 40 h, speed: [${speeds.join(", ")}]`));
    expect(found).toMatchObject({ code: "shares-too-fine", args: { limit: "50000" } });
  });

  test("more on all belts together than can be kept", () => {
    const big = plant({ layout: "tree", count: 4096, cycle: "250 s" }).replaceAll("capacity: 10", "capacity: 2000");
    expect(findingsOf(big).map(brief)).toEqual(["error too-many 4:1"]);
  });
});

test("a belt that has too little room on it for its rate carries what it has room for", () => {
  const belt = { ratePerMin: whole(80), capacity: 5, transitMin: ratio(1n, 10n), metres: null };
  expect(exact(carriedAtMost(belt))).toBe("50");
  expect(exact(carriedAtMost({ ...belt, capacity: 8 }))).toBe("80");
  expect(exact(carriedAtMost({ ...belt, transitMin: whole(0) }))).toBe("80");
  const found = findingsOf(
    plant({ count: 4, layout: "tree" }).replace(
      / {4}belt: .*/,
      "    belt: { rate: 80/min, capacity: 5, transit: 6 s }",
    ),
  );
  expect(found.find(({ code }) => code === "belt-short")?.args).toMatchObject({
    found: "through-1",
    flow: "60/min",
    rate: "50/min",
    lack: "10/min",
  });
});
