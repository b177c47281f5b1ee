/** Whatever a file holds, reading it ends soon and says what is wrong; it never throws. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { formatFinding } from "../../src/scenario/file-finding.ts";
import { type ReadOutcome, readScenario } from "../../src/scenario/read.ts";
import { cases } from "../plants/cases.ts";
import { CUSTOM_EXAMPLE, changed, EXAMPLE, PLANT_EXAMPLE, TACTICS_EXAMPLE } from "./example.ts";
import { mutations, randomScenario } from "./malformed.ts";

/** Reads, and checks what holds of every outcome. */
function read(text: string): ReadOutcome {
  const outcome = readScenario(text);
  const findings = outcome.ok ? outcome.warnings : outcome.findings;
  const lines = text.split(/\r\n|\n|\r/).length;
  if (!outcome.ok) expect(findings.some((finding) => finding.severity === "error")).toBe(true);
  for (const finding of findings) {
    expect(finding.line ?? 1).toBeGreaterThanOrEqual(1);
    expect(finding.line ?? 1).toBeLessThanOrEqual(lines);
    expect(formatFinding(finding, "f")).toMatch(/^f(:\d+:\d+)?: [^\p{Cc}\p{Cf}\p{Cs}]+$/u);
    expect(formatFinding(finding, "f")).not.toMatch(/undefined|Invalid input|\[object/);
  }
  return outcome;
}

describe("malformed at random", () => {
  test.each([EXAMPLE, CUSTOM_EXAMPLE, PLANT_EXAMPLE, TACTICS_EXAMPLE])("a mutated file", (text) => {
    fc.assert(
      fc.property(mutations(text), (mutated) => void read(mutated)),
      { numRuns: cases(200) },
    );
  });

  test("a text of YAML's signs", () => {
    const sign = fc.constantFrom(
      ..."-?:,[]{}#&*!|>'\"%@` \n\t\r0a~.\\",
      "---\n",
      "  ",
      "a: ",
      "- ",
      "\u2028",
      "\ufeff",
      "\u0000",
    );
    fc.assert(
      fc.property(fc.array(sign, { maxLength: 60 }), (signs) => void read(signs.join(""))),
      { numRuns: cases(400) },
    );
  });

  test("any text", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), (text) => void read(text)),
      { numRuns: cases(150) },
    );
  });

  test("any JSON", () => {
    fc.assert(
      fc.property(fc.json({ maxDepth: 8 }), (text) => void read(text)),
      { numRuns: cases(150) },
    );
  });

  test("data in the form of a scenario", () => {
    fc.assert(
      fc.property(randomScenario, (data) => void read(JSON.stringify(data))),
      { numRuns: cases(200) },
    );
  });
});

describe("malformed on purpose", () => {
  const MIB = 2 ** 20;
  const everyMachineInEveryLine = () => {
    const line = (i: number) => `  l${i}: { layout: chain, from: filler, to: filler, belt: none }`;
    const lines = `${many(10_000, line)}\noutlets:`;
    return changed(changed(PLANT_EXAMPLE, "count: 2", "count: 19000"), "outlets:", lines);
  };
  const many = (count: number, line: (index: number) => string) =>
    Array.from({ length: count }, (_, i) => line(i)).join("\n");

  test.each<[string, () => string]>([
    ["open lists", () => "[".repeat(MIB)],
    ["open maps", () => "{a: ".repeat(MIB / 4)],
    ["lists in a line", () => "- ".repeat(MIB / 2)],
    ["keys in a line", () => "a: ".repeat(MIB / 4)],
    ["explicit keys in a line", () => "? ".repeat(MIB / 2)],
    ["indents", () => many(1400, (i) => `${" ".repeat(i)}a:`)],
    ["an alias in each line", () => many(20_000, () => "- *a")],
    ["a chain of aliases", () => many(10_000, (i) => `k${i}: &a${i} [${i === 0 ? "1" : `*a${i - 1}`}]`)],
    ["one key again and again", () => "a: 1\n".repeat(20_000)],
    ["faulty lists", () => `[${",".repeat(100_000)}`],
    ["closing brackets", () => "]".repeat(100_000)],
    ["broken directives", () => "%a\n".repeat(30_000)],
    ["unknown keys", () => `feeds:\n${many(5_000, (i) => `  f${i}: { itme: x, rat: 3 }`)}`],
    // More than a call takes arguments.
    ["unknown keys of machines", () => `machines:\n${many(30_000, (i) => `  m${i}: { itme: x, cycel: 3 s }`)}`],
    ["steps that are none", () => `feeds: { f: { item: a, profile: [${"x,".repeat(200_000)}] } }`],
    ["unknown machines", () => changed(EXAMPLE, "[cartoner]", `[${many(10_000, (i) => `crtoner-${i},`)}]`)],
    ["machines listed in every line", () => everyMachineInEveryLine()],
    ["kinds in a mix", () => changed(PLANT_EXAMPLE, "red: 3,", `${many(20_000, (i) => `k${i}: ${i + 1},`)}`)],
    [
      "unknown places",
      () => changed(PLANT_EXAMPLE, "  at: {", `  at: {${many(20_000, (i) => `    p${i}: { red: 1 },`)}`),
    ],
    ["a long name", () => changed(EXAMPLE, "[cartoner]", "c".repeat(500_000))],
    ["a long number", () => changed(EXAMPLE, "2 s", `${"2".repeat(1_000_000)}/3 s`)],
    ["a long space", () => changed(EXAMPLE, "2 s", `"2${" ".repeat(1_000_000)}x"`)],
  ])("%s", (_what, text) => {
    const outcome = read(text());
    expect(outcome.ok).toBe(false);
    expect(outcome.ok || outcome.findings.length).toBeLessThanOrEqual(101);
  });

  test("the largest group of machines reads", () => {
    const outcome = read(changed(EXAMPLE, "count: 8", "count: 20000"));
    expect(outcome.ok && outcome.scenario.machines[0]?.members.at(-1)).toBe("cartoner-20000");
  });
});
