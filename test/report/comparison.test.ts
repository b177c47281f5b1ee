import { describe, expect, test } from "vitest";
import { comparisonFiles } from "../../src/report/comparison/comparison.ts";
import { comparisonFindings, winnerSentence } from "../../src/report/comparison/comparison-findings.ts";
import { comparisonMarkdown } from "../../src/report/comparison/comparison-markdown.ts";
import { comparisonText } from "../../src/report/comparison/comparison-text.ts";
import { plain } from "../../src/report/figures.ts";
import { choicePictures } from "../../src/report/pictures/choice.ts";
import type { Picture, PictureDataset } from "../../src/report/pictures/frame.ts";
import { comparisonPictures, paint } from "../../src/report/pictures/pictures.ts";
import { tacticsMadePicture } from "../../src/report/pictures/tactics-made.ts";
import { tacticsOutputPicture } from "../../src/report/pictures/tactics-output.ts";
import { textWidth } from "../../src/report/text-width.ts";
import type { Comparison } from "../../src/study/results.ts";
import { comparisonSample } from "./study-sample.ts";

const { comparison, curves } = comparisonSample();
const hostile = comparisonSample({ id: (id) => `${id}\u001b[31m<b>|${"long-name-".repeat(6)}`, title: "a|<i>b\nc" });

function dataset(picture: Picture, label: string): PictureDataset {
  const found = picture.config.data.datasets.find((set) => set.label === label);
  if (found === undefined) throw new Error(`no data set ${label}`);
  return found;
}

function pluginIds(picture: Picture): string[] {
  return (picture.config.plugins ?? []).map(({ id }) => id);
}

function choices(whose: Comparison): [Picture, Picture] {
  const [settling, loss] = choicePictures(whose);
  if (settling === undefined || loss === undefined) throw new Error("no pictures of the choice");
  return [settling, loss];
}

function of(code: string, whose: Comparison = comparison): string[] {
  return comparisonFindings(whose).flatMap((finding) => (finding.code === code ? [plain(finding.text)] : []));
}

function withoutHands(whose: Comparison): Comparison {
  return { ...whose, tactics: whose.tactics.map((tactic) => ({ ...tactic, by_hand: false })) };
}

describe("findings", () => {
  test("winner first, in one sentence why", () => {
    expect(comparisonFindings(comparison)[0]?.code).toBe("winner");
    expect(plain(winnerSentence(comparison))).toBe(
      "stocked comes first: it settles soonest, at 1.6 min instead of 22 min, and loses 120 items instead of 2254, for 1920 items handled.",
    );
  });

  test("a winner that is not the soonest says who is, and what speaks against it", () => {
    expect(plain(winnerSentence({ ...comparison, winner: "tail-stocked" }))).toContain(
      "stocked settles sooner, at 1.6 min, but has 1920 items handled.",
    );
  });

  test("the line as it is may win, and so may one that does not settle", () => {
    expect(plain(winnerSentence({ ...comparison, winner: "none" }))).toBe(
      "No tactic is better than none: as it is, the line settles at 22 min and loses 2254 items.",
    );
    expect(plain(winnerSentence({ ...comparison, winner: "far-end-first" }))).toContain("does not settle within 4 h");
  });

  test("where the line stops whatever is done, no picture names a winner", async () => {
    const still = {
      settled_per_min: 0,
      stops_at_min: 4.5,
      settling_min: null,
      to_95_min: null,
      ramp_up_loss: null,
      undominated: false,
      beaten_by: null,
    };
    const tactics = comparison.tactics.map((one) => ({ ...one, ...still }));
    const whose = { ...comparison, winner: null, settled_per_min: 0, tactics };
    for (const picture of comparisonPictures(whose, curves)) {
      expect(picture.finding).toMatch(/^The line comes to a standstill whatever is done: .*first\.$/);
      expect((await paint(picture)).length).toBeGreaterThan(5_000);
    }
    expect(comparisonMarkdown(whose, [])).toContain("| stops 4.5 |");
    expect(of("choice", whose)).toEqual([]);
    const some = comparison.tactics.map((one) => (one.id === "boosted" ? { ...one, ...still } : one));
    expect(choices({ ...comparison, tactics: some })[0].finding).toContain("At a standstill: boosted.");
  });

  test("who loses least is said where that is not the winner, with and without hands", () => {
    expect(of("least-loss")).toEqual([]);
    expect(of("least-loss", { ...comparison, winner: "held-until-full" })).toEqual([
      "Of all, stocked loses least, 120 items, and settles at 1.6 min, for 1920 items handled; of those without hands in the line low-level loses least, 1260 items, and settles at 11.5 min.",
    ]);
  });

  test("a winner may lose more", () => {
    const tactics = comparison.tactics.map((one) => (one.id === "stocked" ? { ...one, ramp_up_loss: 3000 } : one));
    expect(plain(winnerSentence({ ...comparison, tactics }))).toContain(", but loses 3000 items instead of 2254,");
  });

  test("which are the choice, which are beaten by which, which don't settle", () => {
    expect(of("choice")).toEqual([
      "The choice is between stocked, tail-stocked, low-level and held-until-full: none of these is beaten.",
    ]);
    expect(of("beaten")[0]).toContain("half-stocked by tail-stocked; metered, boosted, second-feed and doing nothing");
    expect(of("unsettled")).toEqual(["Not settled within 4 h: far-end-first."]);
    expect(of("unproved")).toEqual(["The settling time of second-feed is read from the run, not proved."]);
    expect(of("note")[0]).toContain("carries 750/min");
  });

  test("what can be had without hands is said where the winner needs them", () => {
    expect(of("without-hands")).toEqual([
      "Without hands in the line held-until-full settles soonest, at 3.2 min, and loses 1920 items.",
    ]);
    expect(of("without-hands", withoutHands(comparison))).toEqual([]);
  });
});

describe("the terminal", () => {
  test("80 columns hold it, whatever the names", () => {
    for (const whose of [comparison, hostile.comparison]) {
      const text = comparisonText(whose);
      expect(Math.max(...text.split("\n").map((line) => textWidth(line)))).toBeLessThanOrEqual(80);
      expect(text).not.toContain("\u001b");
    }
  });

  test("a row each, those not beaten marked, and the mark explained", () => {
    const lines = comparisonText(comparison).split("\n");
    expect(lines.filter((line) => /^[* ] \S+ +([\d.]+|–) +([\d.]+|–) /.test(line))).toHaveLength(11);
    expect(lines.filter((line) => /^\* \S+ +[\d.]/.test(line)).map((line) => line.split(" ")[1])).toEqual([
      "stocked",
      "tail-stocked",
      "low-level",
      "held-until-full",
    ]);
    expect(lines.find((line) => line.startsWith("* stocked"))).toMatch(/1\.6 .* 120 +1920 +2233 +\+\d+/);
    expect(lines.some((line) => line.startsWith("* Not beaten: "))).toBe(true);
  });

  test("cautions where hands go in, and only there, naming the tactics", () => {
    const text = comparisonText(comparison).replaceAll(/\s+/g, " ");
    for (const words of CAUTIONED) expect(text).toContain(words);
    expect(text).toContain("with stocked, tail-stocked, half-stocked:");
    expect(comparisonText(withoutHands(comparison))).not.toContain("lock out");
  });
});

const CAUTIONED = [
  "stop, isolate and lock out",
  "29 CFR 1910.147",
  "Guards stay on",
  "stored energy",
  "EN 619, ASME B20.1, ISO 12100",
  "check the thresholds",
];

describe("report.md", () => {
  const pictures = [{ file: "choice.png", title: "Settling · <b>x</b>", finding: "stocked [first]." }];

  test("sections in order, every cell in its column, nothing hostile", () => {
    const report = comparisonMarkdown(hostile.comparison, pictures);
    expect(report.split("\n").filter((line) => line.startsWith("## "))).toEqual([
      "## Findings",
      "## Pictures",
      "## Tactics",
      "## Notes",
      "## Assumptions",
      "## Cautions",
    ]);
    expect(report).not.toMatch(/<b>|<i>/);
    const tables = report.split("\n\n").filter((block) => block.startsWith("|"));
    expect(tables).toHaveLength(3);
    for (const table of tables) {
      const cells = table.split("\n").map((line) => line.replaceAll("\\|", "").split("|").length);
      expect(new Set(cells).size).toBe(1);
    }
  });

  test("cautions on hands where there are any", () => {
    const report = comparisonMarkdown(comparison, []);
    for (const words of CAUTIONED) expect(report).toContain(words);
    expect(report).toContain("Hands go into the line with stocked, tail-stocked, half-stocked.");
    expect(comparisonMarkdown(withoutHands(comparison), [])).not.toContain("Hands go into the line");
  });
});

test("comparison.csv and comparison.json: a row a tactic; the comparison as it is", async () => {
  const files = await comparisonFiles(comparison, curves, { charts: false });
  expect([...files.keys()]).toEqual(["report.md", "comparison.csv", "comparison.json"]);
  const rows = String(files.get("comparison.csv")).trimEnd().split("\r\n");
  expect(rows).toHaveLength(12);
  expect(rows[0]?.startsWith("tactic,does,settling_min,proved,to_95_min,ramp_up_loss_items,items_handled,")).toBe(true);
  expect(rows.find((row) => row.startsWith("far-end-first,"))).toContain(",,no,,,0,");
  expect(JSON.parse(String(files.get("comparison.json")))).toEqual({
    format: "fillfront-compare",
    format_version: 1,
    ...comparison,
  });
});

describe("pictures", () => {
  test("each a PNG of its size with the winner below its title, the same bytes each time", async () => {
    const files = await comparisonFiles(comparison, curves, { charts: true });
    const pictures = comparisonPictures(comparison, curves);
    expect(pictures.map(({ file }) => file)).toEqual(["choice.png", "choice-loss.png", "output.png", "made.png"]);
    for (const picture of pictures) {
      expect(picture.title).toContain("Twenty-four tray sealers");
      expect(picture.finding).toMatch(/^stocked .*\d.*\.$/);
      const png = Buffer.from(files.get(picture.file) ?? "");
      expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([picture.width, picture.height]);
      expect(png.length).toBeGreaterThan(20_000);
      expect(png.equals(await paint(picture))).toBe(true);
    }
  });

  test("choice: filled and hollow points, and steps down to the shortest for so much handling", () => {
    const [picture, loss] = choices(comparison);
    expect(dataset(picture, "not beaten").data).toHaveLength(4);
    expect(dataset(picture, "beaten").data).toHaveLength(6);
    expect(dataset(picture, "best").data.slice(0, 3)).toEqual([
      { x: 0, y: 3.2 },
      { x: 1920, y: 3.2 },
      { x: 1920, y: 1.6 },
    ]);
    expect(picture.finding).toContain("Not settled within 4 h: far-end-first.");
    expect(dataset(loss, "best").data.slice(0, 3)).toEqual([
      { x: 0, y: 1260 },
      { x: 640, y: 1260 },
      { x: 640, y: 980 },
    ]);
    expect(pluginIds(picture)).toEqual(["pointLabels", "key"]);
  });

  test("what is beaten by far does not press the others together", () => {
    const tactics = comparison.tactics.map((one) => (one.id === "boosted" ? { ...one, settling_min: 200 } : one));
    const [picture] = choices({ ...comparison, tactics });
    expect(dataset(picture, "beaten").data).toHaveLength(5);
    expect(picture.finding).toContain("Beyond the picture: boosted (3 h 20 min).");
    const time = JSON.stringify(tacticsOutputPicture({ ...comparison, tactics }, curves).config.options?.scales?.x);
    expect(JSON.parse(time).max).toBe(25);
  });

  test("output: those not beaten and the baseline stand out on top, the others are thin and grey", () => {
    const picture = tacticsOutputPicture(comparison, curves);
    const lines = picture.config.data.datasets.slice(0, 11);
    expect(lines.map(({ borderWidth }) => borderWidth)).toEqual([...Array(5).fill(3.5), ...Array(6).fill(1.75)]);
    expect(lines.slice(0, 5).map(({ label }) => label)).toContain("none");
    expect(new Set(lines.map(({ borderColor }) => borderColor)).size).toBe(6);
    expect(dataset(picture, "settled").data.map(({ y }) => y)).toEqual([600, 600]);
    expect(dataset(picture, "tolerance, below").data[0]?.y).toBeCloseTo(570);
    expect(JSON.stringify(picture.config.options?.scales?.x)).toContain("minutes (the horizon is 4 h)");
  });

  test("made: what is missing to the ideal line ends at the loss", () => {
    const picture = tacticsMadePicture(comparison, curves);
    for (const { id, ramp_up_loss: loss } of comparison.tactics) {
      if (loss === null) continue;
      expect(Math.abs((dataset(picture, id).data.at(-1)?.y ?? NaN) - loss)).toBeLessThan(4);
    }
    expect(JSON.stringify(picture.config.options?.scales?.y)).toContain("missing to the ideal line, items");
  });

  test("without a settled output there is no ideal: products made are shown", () => {
    const picture = tacticsMadePicture({ ...comparison, settled_per_min: null }, curves);
    expect(picture.config.data.datasets.map(({ label }) => label)).not.toContain("ideal");
    expect(dataset(picture, "none").data.at(-1)?.y).toBeGreaterThan(12_000);
  });

  test("names of any kind, no curves, no tactics: still pictures", async () => {
    const empty = { ...comparison, tactics: [], settled_per_min: null };
    for (const [whose, own] of [
      [hostile.comparison, hostile.curves],
      [comparison, []],
      [empty, []],
    ] as const) {
      for (const picture of comparisonPictures(whose, own))
        expect((await paint(picture)).length).toBeGreaterThan(5_000);
    }
  });
});
