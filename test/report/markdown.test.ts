import fc from "fast-check";
import { expect, test } from "vitest";
import { reportMarkdown } from "../../src/report/run/run-report.ts";
import { escapeMarkdown } from "../../src/report/text/markdown-text.ts";
import { sample } from "./sample.ts";

test.each([
  ["<img src=x onerror=alert(1)>", "&lt;img src=x onerror=alert(1)&gt;"],
  ["[a](javascript:b)", "\\[a\\](javascript:b)"],
  ["a|b\nc", "a\\|b c"],
  ["# not a heading", "\\# not a heading"],
  ["- not a list", "\\- not a list"],
  ["1. not a list", "1\\. not a list"],
  ["`x` *y* _z_ \\ ~~s~~ &amp;", "\\`x\\` \\*y\\* \\_z\\_ \\\\ \\~\\~s\\~\\~ &amp;amp;"],
  ["3.25 stays", "3.25 stays"],
])("%j is shown as it stands", (text, escaped) => {
  expect(escapeMarkdown(text)).toBe(escaped);
});

test("links don't make themselves", () => {
  expect(escapeMarkdown("see https://example.org, www.example.org or a@example.org")).not.toMatch(/https:|www\.|@/);
});

test("no text opens a tag, a table cell or a second line", () => {
  fc.assert(
    fc.property(fc.string({ unit: "binary" }), (text) => {
      const escaped = escapeMarkdown(text);
      expect(escaped).not.toMatch(/[<>\n\r]/);
      expect(escaped).not.toMatch(/(^|[^\\])(\\\\)*\|/);
    }),
  );
});

const report = reportMarkdown(
  sample({ machines: 3, title: "<b>Hostile</b> | *line*", id: (i) => `a|b<i>${i}` }).result,
  [{ file: "output.png", title: "Output · <b>x</b>", finding: "Settled [at] 90/min." }],
);

test("the answer, pictures, findings, tables, assumptions, cautions, in this order", () => {
  const sections = report.split("\n").filter((line) => /^## /.test(line));
  expect(sections).toEqual(["## Pictures", "## Findings", "## Tables", "## Assumptions", "## Cautions"]);
  expect(report.startsWith("# &lt;b&gt;Hostile&lt;/b&gt; \\| \\*line\\*\n")).toBe(true);
  expect(report).toContain("![Output · &lt;b&gt;x&lt;/b&gt;. Settled \\[at\\] 90/min.](output.png)");
  expect(report.endsWith("\n")).toBe(true);
});

test("every row of a table has the cells of its heading", () => {
  const tables = report.split("\n\n").filter((block) => block.startsWith("|"));
  expect(tables.length).toBeGreaterThanOrEqual(5);
  for (const table of tables) {
    const cells = table.split("\n").map((line) => line.replaceAll("\\|", "").split("|").length);
    expect(new Set(cells).size).toBe(1);
  }
});

test("it says what its running share is not, and what must be heeded", () => {
  const flowing = report.replaceAll("\n", " ");
  expect(flowing).toContain("counts waiting for items against the machine, unlike availability in ISO 22400-2");
  expect(flowing).toContain("an estimate to plan with, not a safety function");
  expect(flowing).toContain("stop, isolate and lock out");
  expect(flowing).toContain("29 CFR 1910.147");
  expect(flowing).toContain("not from this program");
});

test("without pictures there is no heading for them", () => {
  expect(reportMarkdown(sample({ machines: 3 }).result, [])).not.toContain("## Pictures");
});
