import { describe, expect, test } from "vitest";
import { sweepFiles } from "../../src/report/files/sweep-files.ts";
import { paint, sweepPictures } from "../../src/report/pictures.ts";
import { plannedCount } from "../../src/report/sweep/sweep-figures.ts";
import { sweepFindings } from "../../src/report/sweep/sweep-findings.ts";
import { mapCells } from "../../src/report/sweep/sweep-map-picture.ts";
import { sweepMarkdown, sweepText } from "../../src/report/sweep/sweep-report.ts";
import { plain } from "../../src/report/text/figures.ts";
import { PLAIN_STYLE } from "../../src/report/text/terminal-lines.ts";
import { textWidth } from "../../src/report/text/text-width.ts";
import type { Sweep, SweepPoint } from "../../src/study/sweep/sweep-results.ts";
import { ONE, sweepSample, TWO, troubled, WORDS } from "./sweep-sample.ts";

function of(code: string, sweep: Sweep): string[] {
  return sweepFindings(sweep).flatMap((finding) => (finding.code === code ? [plain(finding.text)] : []));
}

describe("findings", () => {
  const one = sweepSample(ONE);
  test("where output, settling and loss are least and greatest", () => {
    expect(of("full", one)).toEqual([
      "The line comes to its full output at 4 of 8 points, the first of them with feeds.silo.rate 250/min.",
    ]);
    expect(of("output", one)).toEqual([
      "The long-run output is highest with feeds.silo.rate 250/min, 240/min, and lowest with feeds.silo.rate 50/min, 50/min.",
    ]);
    expect(of("settling", one)).toEqual([
      "The line settles soonest with feeds.silo.rate 50/min, at 5 min, and latest with feeds.silo.rate 400/min, at 12 min.",
    ]);
    expect(of("loss", one)).toEqual([
      "The ramp-up loss is least with feeds.silo.rate 50/min, 100 items, and greatest with feeds.silo.rate 400/min, 800 items.",
    ]);
    expect(sweepFindings(one).map(({ code }) => code)).toEqual(["full", "output", "settling", "loss"]);
  });

  test("two quantities are named together", () => {
    expect(of("settling", sweepSample(TWO))).toEqual([
      "The line settles soonest with feeds.silo.rate 50/min and machines.filler.infeed 50, at 5 min, and latest with feeds.silo.rate 150/min and machines.filler.infeed 100, at 10 min.",
    ]);
  });

  test("what is the same everywhere is said so", () => {
    const same = sweepSample(WORDS, () => ({ settling_min: 7, ramp_up_loss: 40, settled_per_min: "240" }));
    expect(sweepFindings(same).map(({ text }) => plain(text))).toEqual([
      "The line comes to its full output at every point.",
      "The long-run output is 240/min at every point.",
      "The line settles at 7 min, whatever the value.",
      "The ramp-up loss is 40 items, whatever the value.",
    ]);
    // But not where one of them has no figure.
    const but = { ...same, points: same.points.map((p) => (p.point === 2 ? { ...p, settling_min: null } : p)) };
    expect(of("settling", but)).toEqual([]);
  });

  test("what does not settle, stops, or is not proved", () => {
    expect(of("unsettled", troubled())).toEqual([
      "Not settled within the horizon: with feeds.silo.rate 250/min; feeds.silo.rate 400/min.",
    ]);
    expect(of("stops", troubled())).toEqual(["The line comes to a standstill with feeds.silo.rate 300/min."]);
    expect(of("unproved", troubled())).toEqual([
      "The settling time is read from the run, not proved, with feeds.silo.rate 350/min.",
    ]);
    expect(of("full", troubled())).toEqual([
      "The line comes to its full output at 2 of 7 points whose settled output is known, the first of them with feeds.silo.rate 250/min.",
    ]);
    const none = sweepSample(["a=1..9"], () => ({ settling_min: null, settled_per_min: null, measured_per_min: 3 }));
    expect(of("full", none)).toEqual([]);
    expect(of("unsettled", none)).toEqual(["Not settled within the horizon: with a 1; a 2; a 3; 6 more."]);
  });

  test("a part, and a sweep that was stopped", () => {
    const part = { ...one, shard: "2/3", points: one.points.filter(({ point }) => point % 3 === 2) };
    expect(of("part", part)).toEqual([
      "This is part 2/3 of the sweep, 3 of 8 points; fillfront gather joins the parts.",
    ]);
    expect(of("incomplete", part)).toEqual([]);
    expect(of("incomplete", { ...part, points: part.points.slice(1) })).toEqual([
      "The sweep was stopped: 2 of 3 points are complete, and only these are told of.",
    ]);
    expect(of("incomplete", { ...one, points: one.points.slice(0, 5) })).toEqual([
      "The sweep was stopped: 5 of 8 points are complete, and only these are told of.",
    ]);
    expect([1, 2, 3, 8, 9].map((i) => plannedCount({ ...one, shard: `${i}/9` }))).toEqual([1, 1, 1, 1, 0]);
  });
});

describe("files", () => {
  test("report, CSV with a row a point, JSON as it is", async () => {
    const sweep = sweepSample(TWO);
    const files = await sweepFiles(sweep, { charts: false });
    expect([...files.keys()]).toEqual(["report.md", "sweep.csv", "sweep.json"]);
    const rows = String(files.get("sweep.csv")).trimEnd().split("\r\n");
    expect(rows[0]).toMatch(/^point,feeds\.silo\.rate \(\/min\),machines\.filler\.infeed,settling_min,proved,/);
    expect(rows[4]).toBe("4,100,100,8,yes,,7,400,200,recurrence,240,4000,75,80");
    expect(rows).toHaveLength(7);
    expect(JSON.parse(String(files.get("sweep.json")))).toEqual({
      format: "fillfront-sweep",
      format_version: 1,
      ...sweep,
    });
    const words = await sweepFiles(sweepSample(WORDS), { charts: false });
    expect(String(words.get("sweep.csv")).split("\r\n")[2]).toMatch(/^2,branch-first,6,/);
  });

  test("a part has no pictures", async () => {
    const files = await sweepFiles({ ...sweepSample(ONE), shard: "1/2" }, { charts: true });
    expect([...files.keys()]).toEqual(["report.md", "sweep.csv", "sweep.json"]);
  });

  test("report.md: sections in order, cells in columns, nothing unescaped", () => {
    const report = sweepMarkdown({ ...troubled(), title: "a|<b>" }, []);
    expect(report.split("\n").filter((line) => line.startsWith("## "))).toEqual([
      "## Findings",
      "## Points",
      "## Assumptions",
      "## Cautions",
    ]);
    expect(report).not.toContain("<b>");
    expect(report).toContain("feeds.silo.rate from 50/min to 400/min (8 values), up to 4 h each");
    expect(report).toContain("11.0 (not proved)");
    const [, table = ""] = report.split("\n\n").filter((block) => block.startsWith("|"));
    expect(new Set(table.split("\n").map((line) => line.split("|").length)).size).toBe(1);
    expect(table.split("\n")).toHaveLength(10);
    const long = sweepMarkdown(sweepSample(["a=1..600"]), []);
    expect(long).toContain("The first 500 of 600; all are in sweep.csv.");
  });

  test("the terminal: 80 columns, a row a point, hundreds cut short", () => {
    const long = "machines.a-machine-with-a-very-long-name-indeed.infeed=1..200";
    for (const texts of [ONE, TWO, WORDS, [long], [long.replace("200", "3"), ...ONE]]) {
      const lines = sweepText(sweepSample(texts), PLAIN_STYLE, { details: true }).split("\n");
      expect(Math.max(...lines.map((line) => textWidth(line)))).toBeLessThanOrEqual(80);
    }
    const text = sweepText(sweepSample([long]), PLAIN_STYLE, { details: true });
    expect(text).toContain("… 150 more, in sweep.csv");
    expect(text).toMatch(/^ +200 /m);
  });
});

describe("pictures", () => {
  test.each([ONE, WORDS, TWO, ["a=1"], ["a=1", "b=x"], ["a=1..3", "b=1 s..40 s:1 s"]])(
    "%j: PNGs of their size, the same bytes each time",
    async (...texts) => {
      const sweep = sweepSample(texts);
      const files = await sweepFiles(sweep, { charts: true });
      expect([...files.keys()].slice(0, 3)).toEqual(["settling.png", "loss.png", "output.png"]);
      for (const picture of sweepPictures(sweep)) {
        expect(picture.finding).toMatch(/.\.$/);
        const png = Buffer.from(files.get(picture.file) ?? "");
        expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([picture.width, picture.height]);
        expect(png.length).toBeGreaterThan(8_000);
        expect(png.equals(await paint(picture))).toBe(true);
      }
    },
  );

  test("over one quantity: curves in the order of its numbers, gaps where there is no figure", () => {
    const [settling, loss, output] = sweepPictures(troubled());
    const [settled] = settling?.config.data.datasets ?? [];
    expect(settled?.data[0]).toEqual({ x: 50, y: 5 });
    expect(settled?.data[4]).toEqual({ x: 250, y: Number.NaN });
    expect(settled?.showLine).toBe(true);
    expect(settled?.pointBackgroundColor).toHaveLength(8);
    expect(loss?.config.data.datasets.map(({ label }) => label)).toEqual(["ramp-up loss", "settled hold-up"]);
    expect(output?.config.data.datasets[0]?.data[7]).toEqual({ x: 400, y: 199.5 });
    const falling = sweepPictures(sweepSample(["a=3..1"]))[0]?.config.data.datasets[0];
    expect(falling?.data.map(({ x }) => x)).toEqual([1, 2, 3]);
  });

  test("over words: points without a line, a place each", () => {
    const [settling] = sweepPictures(sweepSample(WORDS));
    const [settled] = settling?.config.data.datasets ?? [];
    expect(settled?.showLine).toBe(false);
    expect(settled?.data.map(({ x }) => x)).toEqual([0, 1, 2]);
    expect(settling?.config.options?.scales?.x).toMatchObject({ labels: ["even", "branch-first", "through-first"] });
  });

  test("over two: a cell a point, the first quantity across, the second upwards", () => {
    const sweep = sweepSample(TWO, ({ point }) => (point === 3 ? { settling_min: null } : {}));
    const [settling] = sweepPictures(sweep);
    expect(settling?.config.options?.scales).toMatchObject({
      x: { labels: ["50", "100", "150"], title: { text: "rate of feed silo, /min" } },
      y: { labels: ["100", "50"], title: { text: "infeed of machine filler" } },
    });
    expect((settling?.config.plugins ?? []).map(({ id }) => id)).toEqual(["valueCells", "key"]);
  });

  test("a cell is the darker the higher its figure, and has none where there is none", () => {
    const { points } = sweepSample(TWO, ({ point }) => (point === 3 ? { settling_min: null } : {}));
    const content = { of: (point: SweepPoint) => point.settling_min, cell: String };
    expect(mapCells(points, ["50/min", "100/min", "150/min"], ["100", "50"], content)).toEqual({
      cells: [
        { x: 0, y: 1, share: 0, text: "5" },
        { x: 0, y: 0, share: 0.2, text: "6" },
        { x: 1, y: 1, share: null, text: "" },
        { x: 1, y: 0, share: 0.6, text: "8" },
        { x: 2, y: 1, share: 0.8, text: "9" },
        { x: 2, y: 0, share: 1, text: "10" },
      ],
      range: ["5", "10"],
    });
    // Rows and columns that the picture has no room for.
    expect(mapCells(points, ["50/min"], ["50"], content).cells).toHaveLength(1);
    const none = mapCells(points, ["50/min"], ["50"], { of: () => null, cell: String });
    expect(none).toEqual({ cells: [{ x: 0, y: 0, share: null, text: "" }], range: null });
  });
});
