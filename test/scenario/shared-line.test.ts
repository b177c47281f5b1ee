/** Trees and loops in the file. */
import { describe, expect, test } from "vitest";
import { whole } from "../../src/quantity/rational.ts";
import { formatFinding } from "../../src/scenario/file-finding.ts";
import { readScenario } from "../../src/scenario/read.ts";
import type { Line } from "../../src/scenario/scenario.ts";
import { writeScenario } from "../../src/scenario/write.ts";
import { changed, plain, SHARED_EXAMPLE } from "./example.ts";

function linesOf(text: string): readonly Line[] {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  return outcome.scenario.lines;
}

const belt = (perMin: number, capacity: number) => ({
  ratePerMin: whole(perMin),
  capacity,
  transitMin: whole(capacity).div(whole(perMin)),
  metres: null,
});

test("a tree and a loop as stated", () => {
  expect(plain(linesOf(SHARED_EXAMPLE))).toEqual(
    plain([
      {
        id: "filling",
        layout: "tree",
        from: ["washer"],
        to: ["filler"],
        belt: belt(150, 12),
        branch: belt(150, 12),
        collect: belt(150, 12),
        merges: "even",
        ways: 3,
      },
      {
        id: "labelling",
        layout: "loop",
        from: ["filler"],
        to: ["labeller-5", "labeller-1", "labeller-2", "labeller-3", "labeller-4"],
        belt: belt(150, 12),
        branch: belt(60, 6),
        collect: belt(120, 9),
        merges: "joining-first",
        ways: 3,
        return: belt(40, 20),
      },
    ]),
  );
});

test("what may be left out: branch, collect and return are like the belt, dividers have up to three ways", () => {
  const short = SHARED_EXAMPLE.split("\n").filter((line) => !/^ {4}(branch|collect|merges|ways|return)/.test(line));
  const like = belt(150, 12);
  expect(plain(linesOf(short.join("\n"))[1])).toMatchObject({
    branch: plain(like),
    collect: plain(like),
    return: plain(like),
    merges: "even",
    ways: 3,
  });
});

test("written as people would", () => {
  const outcome = readScenario(SHARED_EXAMPLE);
  const text = outcome.ok ? writeScenario(outcome.scenario) : "";
  expect(text).toContain("    layout: tree\n");
  expect(text).toContain("    merges: joining-first\n    ways: 3\n    return: { rate: 40/min, capacity: 20, ");
  expect(text.match(/collect:/g)).toHaveLength(1);
});

describe("what is wrong with one", () => {
  const TO = "[labeller-5, labeller-1, labeller-2, labeller-3, labeller-4]";

  test.each([
    ["dividers of thirteen ways", "ways: 3", "ways: 13", "too-large 17:11"],
    ["ways in words", "ways: 3", "ways: three", "wrong-type 17:11"],
    ["a list with a way too many", "ways: 3", "ways: [2, 13]", "too-large 17:15"],
    ["no ways", "ways: 3", "ways: []", "empty 17:5"],
    ["a rule for its dividers", "ways: 3", "dividers: even", "unknown-key 17:5"],
    ["an end", "ways: 3", "end: stop", "unknown-key 17:5"],
    ["a return of a tree", "to: filler,", "to: filler, return: { rate: 9/min, capacity: 2 },", "unknown-key 8:54"],
    ["a feed among its machines", TO, "[labeller, washer]", "wrong-reference 12:20"],
    ["an unknown machine", TO, "[labeler]", "unknown-reference 12:10"],
    ["a machine twice", TO, "[labeller-1, labeller]", "listed-twice 12:22"],
    ["a source of what nobody takes", "from: filler", "from: labeller", "nothing-collected 11:11"],
    ["a return without a belt", "return: { rate: 40/min, capacity: 20 }", "return: none", "wrong-type 18:13"],
    ["a belt of half a form", "branch: { rate: 60/min, capacity: 6 }", "branch: { rate: 60/min }", "belt-form 14:5"],
    ["a collecting belt of a tree with one feed", "to: filler,", "to: filler, collect: none,", "nothing-joins 8:54"],
  ])("%s", (_, from, to, ...expected) => {
    const outlets = to.includes("store") ? "outlets: { store: { item: labelled } }\nfeeds:" : "feeds:";
    const shift = outlets === "feeds:" ? 0 : 1;
    const text = changed(changed(SHARED_EXAMPLE, from, to), "feeds:", outlets);
    const outcome = readScenario(text);
    const all = (outcome.ok ? outcome.warnings : outcome.findings).map(({ code, line, column }) => {
      return `${code} ${(line ?? 0) - shift}:${column}`;
    });
    expect(all).toEqual(expected);
  });

  test("a return like a belt that is none", () => {
    const text = changed(SHARED_EXAMPLE, "    return: { rate: 40/min, capacity: 20 }\n", "");
    const outcome = readScenario(changed(text, "    belt: { rate: 150/min, capacity: 12 }\n", "    belt: none\n"));
    const findings = outcome.ok ? [] : outcome.findings;
    expect(findings.map((finding) => formatFinding(finding, "line.yaml"))).toEqual([
      "line.yaml:10:13: a return needs a belt, and this line's belt is none; state one for it, such as return: { rate: 60/min, capacity: 20 }",
    ]);
  });
});
