import { describe, expect, test } from "vitest";
import { growthFiles } from "../../src/report/files/growth-files.ts";
import { growthFindings } from "../../src/report/growth/growth-findings.ts";
import { growthItemsPicture, growthTimesPicture } from "../../src/report/growth/growth-pictures.ts";
import { growthMarkdown, growthText } from "../../src/report/growth/growth-report.ts";
import { growthPictures, paint } from "../../src/report/pictures.ts";
import { plain } from "../../src/report/text/figures.ts";
import { PLAIN_STYLE } from "../../src/report/text/terminal-lines.ts";
import { textWidth } from "../../src/report/text/text-width.ts";
import type { Growth } from "../../src/study/results.ts";
import { growthSample } from "./study-sample.ts";

const growth = growthSample();

function of(code: string, whose: Growth = growth): string[] {
  return growthFindings(whose).flatMap((finding) => (finding.code === code ? [plain(finding.text)] : []));
}

test("the belt that becomes too small, and from which length, comes first", () => {
  expect(
    growthFindings(growth)
      .map(({ code }) => code)
      .slice(0, 2),
  ).toEqual(["worth", "too-small"]);
  expect(of("worth")).toEqual(["Up to 30 machines the line makes all that they need."]);
  expect(of("too-small")).toEqual([
    "From 31 machines on the belt main.through-1 is too small: it carries 750/min; all machines together need 775/min.",
  ]);
  expect(of("too-small", growthSample(2, 20, null))).toEqual(["Up to 20 machines every belt carries what is needed."]);
});

test("how settling, loss and hold-up grow, what stays short, what does not settle", () => {
  expect(of("settling")[0]).toMatch(/from 51 s with 2 machines to 68.2 min with 40, 4.4 times that with 20\.$/);
  expect(of("items")).toEqual([
    "The ramp-up loss goes from 185 to 4000 items, the settled hold-up from 172 to 3668 items.",
  ]);
  expect(of("short")).toEqual([
    "Slower for good than the machines could be: 31 machines (750/min of 775/min) and 8 longer sizes.",
  ]);
  expect(of("unsettled")).toEqual(["Not settled yet within the horizon with 37 machines."]);
});

test("the terminal: 80 columns, a row a size, hundreds cut short", () => {
  const text = growthText(growth, PLAIN_STYLE, { details: true });
  expect(Math.max(...text.split("\n").map((line) => textWidth(line)))).toBeLessThanOrEqual(80);
  expect(text.split("\n").filter((line) => /^ +\d+ +\d/.test(line))).toHaveLength(39);
  const long = growthText(growthSample(1, 200), PLAIN_STYLE, { details: true });
  expect(long).toContain("… 150 more, in growth.csv");
  expect(long).toMatch(/^ +200 /m);
});

test("files: report, CSV with a row a size, JSON as it is", async () => {
  const files = await growthFiles(growth, { charts: false });
  expect([...files.keys()]).toEqual(["report.md", "growth.csv", "growth.json"]);
  const rows = String(files.get("growth.csv")).trimEnd().split("\r\n");
  expect(rows).toHaveLength(40);
  expect(rows[36]).toBe("37,925,925,750,,,yes,,,3392,-175,main.through-1");
  expect(JSON.parse(String(files.get("growth.json")))).toEqual({
    format: "fillfront-grow",
    format_version: 1,
    ...growth,
  });
});

test("report.md: sections in order, cells in columns", () => {
  const report = growthMarkdown({ ...growth, title: "a|<b>" }, []);
  expect(report.split("\n").filter((line) => line.startsWith("## "))).toEqual([
    "## Findings",
    "## Sizes",
    "## Assumptions",
    "## Cautions",
  ]);
  expect(report).not.toContain("<b>");
  const [table = ""] = report.split("\n\n").filter((block) => block.startsWith("|"));
  expect(new Set(table.split("\n").map((line) => line.split("|").length)).size).toBe(1);
});

describe("pictures", () => {
  test("PNGs of their size, the same bytes each time", async () => {
    const files = await growthFiles(growth, { charts: true });
    expect(growthPictures(growth).map(({ file }) => file)).toEqual(["growth.png", "growth-items.png"]);
    for (const picture of growthPictures(growth)) {
      expect(picture.finding).toMatch(/\d.*\.$/);
      const png = Buffer.from(files.get(picture.file) ?? "");
      expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([picture.width, picture.height]);
      expect(png.length).toBeGreaterThan(20_000);
      expect(png.equals(await paint(picture))).toBe(true);
    }
  });

  test("a size that does not settle leaves a gap, one that is not proved a hollow point", () => {
    const picture = growthTimesPicture(growth);
    const [settled] = picture.config.data.datasets;
    expect(settled?.data[35]).toEqual({ x: 37, y: Number.NaN });
    expect(settled?.data[34]?.y).toBeCloseTo(56.95, 1);
    const colours = settled !== undefined && "pointBackgroundColor" in settled ? settled.pointBackgroundColor : [];
    expect([colours].flat().filter((colour) => colour === "#ffffff")).toHaveLength(4);
    expect((picture.config.plugins ?? []).map(({ id }) => id)).toEqual(["timeMarks", "endLabels", "key"]);
  });

  test("loss and hold-up are items on one axis", () => {
    const picture = growthItemsPicture(growth);
    expect(picture.config.data.datasets.map(({ label }) => label)).toEqual(["ramp-up loss", "settled hold-up"]);
    expect(JSON.stringify(picture.config.options?.scales?.y)).toContain('"items"');
  });

  test("one size, or none: still pictures", async () => {
    for (const whose of [growthSample(5, 5, null), { ...growthSample(5, 5, null), sizes: [] }]) {
      for (const picture of growthPictures(whose)) expect((await paint(picture)).length).toBeGreaterThan(5_000);
    }
  });
});
