import { describe, expect, test } from "vitest";
import type { Result } from "../../src/analysis/result.ts";
import { summary } from "../../src/report/run/summary.ts";
import { textWidth } from "../../src/report/text/text-width.ts";
import { sample } from "./sample.ts";

function widest(text: string): number {
  return Math.max(...text.split("\n").map((line) => textWidth(line)));
}

function busy(result: Result): Result {
  return {
    ...result,
    warnings: [`a word ${"x".repeat(100)} that is too long`],
    machines: result.machines.map((machine) => ({
      ...machine,
      minutes: { running: 1234.5, starved: 1234.5, blocked: 1234.5, down: 1234.5, held: 1234.5 },
    })),
  };
}

describe.each([4, 30])("%d machines", (machines) => {
  const { result } = sample({ machines, endMin: 30 });

  test("80 columns hold it, one row a machine", () => {
    const text = summary(result);
    expect(widest(text)).toBeLessThanOrEqual(80);
    expect(text.split("\n").filter((line) => /^cartoner-\d+ /.test(line))).toHaveLength(machines);
    expect(text).toContain("settled");
  });

  test("so with long names, wide characters and every state", () => {
    const named = sample({ machines, endMin: 30, id: (i) => `包装机-palletiser-of-the-northern-hall-no-${i}` });
    const text = summary(busy(named.result));
    expect(widest(text)).toBeLessThanOrEqual(80);
    expect(text).toContain("blocked");
  });
});

test("names stay apart when cut", () => {
  const text = summary(busy(sample({ machines: 30, id: (i) => `palletiser-of-the-northern-hall-${i}` }).result));
  const names = text.split("\n").flatMap((line) => /^\S*…\S*/.exec(line)?.[0] ?? []);
  expect(new Set(names).size).toBe(30);
});

test("hundreds of machines are not all listed, and the reader is told where they are", () => {
  const text = summary(sample({ machines: 200, samples: 20 }).result);
  expect(text).toContain("… 150 more, in machines.csv");
  expect(text).toContain("cartoner-200 ");
});

test("no colour unless a style is handed in", () => {
  const { result } = sample({ machines: 4 });
  expect(summary(result)).not.toContain("\u001b");
  const marked = { title: (t: string) => `<${t}>`, heading: (t: string) => t, warning: (t: string) => `!${t}` };
  const text = summary({ ...result, warnings: ["mind"] }, marked);
  expect(text.startsWith(`<${result.title}>\n`)).toBe(true);
  expect(text).toMatch(/^!Warning +mind$/m);
});

test("control characters of a title don't reach the terminal", () => {
  const { result } = sample({ machines: 4, title: "a\u001b[31mb\nc" });
  expect(summary(result).split("\n")[0]).toBe("a [31mb c");
});
