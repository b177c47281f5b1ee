/** What is said of lanes before anything is built. */
import { describe, expect, test } from "vitest";
import type { FileFinding } from "../../src/scenario/file-finding.ts";
import { sentence } from "../../src/scenario/messages.ts";
import { changed, LANES_EXAMPLE } from "../scenario/example.ts";
import { findingsOf } from "./shared-lines.ts";

function brief({ severity, code, line, column }: FileFinding): string {
  return `${severity} ${code} ${line}:${column}`;
}

const with_ = (...changes: (readonly [string, string])[]): readonly FileFinding[] =>
  findingsOf(changes.reduce((text, [from, to]) => changed(text, from, to), LANES_EXAMPLE));

const BELT = "belt: { rate: 150/min";

/** Five of eight parts, so that of 60/min 96/min pass a lane's first stretch, and of 35/min 56/min. */
describe("60/min and 35/min to five, by dividers of two ways", () => {
  test("96/min pass the first stretch of a lane: fine on a belt of 96/min, not on one of 95/min", () => {
    expect(with_()).toEqual([]);
    expect(with_([BELT, "belt: { rate: 96/min"])).toEqual([]);
    const found = with_([BELT, "belt: { rate: 95/min"]);
    expect(found.map(brief)).toEqual(["warning lane-short 12:5"]);
    expect(found[0]?.args).toEqual({
      found: "lane-1-through-1",
      flow: "96/min",
      rate: "95/min",
      lack: "1/min",
      source: "washer",
      // C n / L.
      input: "59.375/min",
      over: "0.625/min",
      lanes: "6",
    });
    expect(sentence("lane-short", found[0]?.args ?? {})).toBe(
      '"lane-1-through-1" is to carry 96/min, which is 1/min more than its 95/min; what would do: a belt of 96/min; ' +
        '"washer" cut to 59.375/min first, or 0.625/min of it on a lane more; 6 outgoing lanes',
    );
  });

  test("the remedies named are remedies", () => {
    const slow = [BELT, "belt: { rate: 95/min"] as const;
    expect(with_(slow, ["rate: 60/min }", "rate: 59.375/min }"])).toEqual([]);
    const more = ["  rinser: {", "  third: { item: jar, rate: 0.625/min }\n  rinser: {"] as const;
    const split = [more, ["rate: 60/min }", "rate: 59.375/min }"], ["[washer, ", "[washer, third, "]] as const;
    expect(with_(slow, ...split)).toEqual([]);
    // Six of eight parts: 80/min.
    expect(with_(slow, ["count: 4", "count: 5"])).toEqual([]);
  });

  test("belts across and back, the worst of each, where they are stated", () => {
    const found = with_(
      ["branch: { rate: 60/min", "branch: { rate: 11/min"],
      ["return: { rate: 90/min", "return: { rate: 30/min"],
    );
    expect(found.map(brief)).toEqual(["warning lane-short 13:5", "warning lane-short 15:5"]);
    expect(found.map(({ args }) => [args.found, args.flow, args.source, args.input])).toEqual([
      ["lane-1-spare-2", "24/min", "washer", "27.5/min"],
      ["lane-1-return", "36/min", "washer", "50/min"],
    ]);
  });
});

describe("outgoing lanes", () => {
  const text = (more: string) => `feeds: { a: { item: can, rate: 40/min }, b: { item: can, rate: 50/min } }
machines: { m: { count: 3, cycle: 1 s, takes: { can: 1 }, makes: { box: 1 }, infeed: 20 } }
lines:
  main:
    layout: lanes
    from: [a, b]
    to: ${more}
outlets: { away: { item: can } }
`;

  test("each has its part of all, and what would do is more of them", () => {
    const found = findingsOf(text("[m-1, away]\n    belt: { rate: 50/min, capacity: 9 }"));
    expect(found.filter(({ code }) => code === "lane-short")).toEqual([]);
    const [short] = findingsOf(text("[m-1, m-2]\n    belt: { rate: 44/min, capacity: 9 }")).filter(
      ({ code }) => code === "lane-short",
    );
    // 50/min come in on 44/min: of all that is too slow the worst is named.
    expect(short?.args).toMatchObject({ found: "lane-2-through-1", lack: "6/min", lanes: "" });
    const [out] = findingsOf(text("away\n    belt: { rate: 60/min, capacity: 9 }"));
    expect(out && sentence("lane-short", out.args)).toBe(
      '"out-1" is to carry 90/min, which is 30/min more than its 60/min; what would do: a belt of 90/min; all that comes ' +
        "in cut to 60/min first; 2 outgoing lanes",
    );
  });

  test("a machine that takes less than its part leaves the rest to the others", () => {
    // 25 + 24 come in, and the first machine takes 6 of its 24.5.
    const even = text("[m-1, m-2]\n    belt: { rate: 40/min, capacity: 9 }")
      .replace("rate: 40/min }", "rate: 25/min }")
      .replace("rate: 50/min }", "rate: 24/min }");
    const short = (given: string) => findingsOf(given).filter(({ code }) => code === "lane-short");
    expect(short(even)).toEqual([]);
    const [found, ...others] = short(even.replace("cycle: 1 s", "cycle: 1 s, speed: [10 %, 100 %, 100 %]"));
    expect(others).toEqual([]);
    expect(found?.args).toMatchObject({ found: "out-2", flow: "43/min" });
  });
});

describe("what cannot be drawn up", () => {
  test.each([
    [
      "several kinds",
      [
        ["item: jar, rate: 60/min", "items: { jar: 1, tin: 1 }, rate: 60/min"],
        ["takes: { jar: 1 }", "takes: { jar: 1, tin: 1 }"],
      ],
      "error shared-kinds 10:5",
    ],
    [
      "an outlet for something else",
      [["chute: { item: jar }", "chute: { item: filled }"]],
      "error shared-no-need 11:5",
    ],
    [
      "direct hand-overs across",
      [["branch: { rate: 60/min, capacity: 6 }", "branch: none"]],
      "error merge-direct 13:5",
    ],
  ] as const)("%s", (_, changes, expected) => {
    expect(with_(...changes).map(brief)).toEqual([expected]);
  });
});
