import { describe, expect, test } from "vitest";
import type { Picture, PictureDataset } from "../../src/report/chart/frame.ts";
import { choicePicture } from "../../src/report/comparison/choice-picture.ts";
import { comparisonFindings } from "../../src/report/comparison/comparison-findings.ts";
import { comparisonMarkdown } from "../../src/report/comparison/comparison-markdown.ts";
import { comparisonText } from "../../src/report/comparison/comparison-text.ts";
import { winnerSentence } from "../../src/report/comparison/recommended-findings.ts";
import { tacticsMadePicture } from "../../src/report/comparison/tactics-made-picture.ts";
import { tacticsOutputPicture } from "../../src/report/comparison/tactics-output-picture.ts";
import { comparisonFiles, comparisonTold } from "../../src/report/files/comparison-files.ts";
import { comparisonPictures, paint } from "../../src/report/pictures.ts";
import { plain } from "../../src/report/text/figures.ts";
import { PLAIN_STYLE } from "../../src/report/text/terminal-lines.ts";
import { textWidth } from "../../src/report/text/text-width.ts";
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

function of(code: string, whose: Comparison = comparison): string[] {
  return comparisonFindings(whose).flatMap((finding) => (finding.code === code ? [plain(finding.text)] : []));
}

function withoutHands(whose: Comparison): Comparison {
  return { ...whose, tactics: whose.tactics.map((tactic) => ({ ...tactic, by_hand: false })) };
}

describe("findings", () => {
  test("what is worth doing first, why, and what it asks for", () => {
    expect(comparisonFindings(comparison)[0]?.code).toBe("winner");
    expect(plain(winnerSentence(comparison))).toBe(
      "stocked is worth doing: loses 120 items instead of 2254, and has 95 % from 53 s on instead of 12.1 min, with 1920 items handled. It asks for hands for 1920 items beside the running line, 8 min at 240/min.",
    );
  });

  test("doing nothing may be what is recommended, or all that is left", () => {
    expect(plain(winnerSentence({ ...comparison, winner: "none" }))).toBe(
      "No tactic that the floor grants is better than doing nothing. As it is, the line loses 2254 items, has 95 % from 12.1 min on and full output from 22 min on.",
    );
    expect(winnerSentence({ ...comparison, winner: "none", nothing_qualifies: true })).toContain(
      "Doing nothing is what is left: no tactic here needs only what the floor grants,",
    );
  });

  test("equals are said to be equal, a gain is called a gain", () => {
    const told = (loss: number, at = 12.1): string => {
      const tactics = comparison.tactics.map((one) =>
        one.id === "stocked" ? { ...one, ramp_up_loss: loss, to_95_min: at } : one,
      );
      return plain(winnerSentence({ ...comparison, tactics }));
    };
    expect(told(2240)).toContain("loses 2240 items, and has 95 % from 12.1 min on, as with nothing done, with");
    expect(told(2240, 5)).toContain(
      "loses 2240 items, as with nothing done, and has 95 % from 5 min on instead of 12.1",
    );
    expect(told(-11)).toContain("gains 11 items instead of losing 2254, and");
    expect(told(0)).toContain("loses nothing instead of losing 2254");
  });

  test("what does better at a price is named beside it, with the price", () => {
    const whose = { ...comparison, winner: "none", best_without_reserve: "low-level", best_with_hands: "stocked" };
    expect(of("without-reserve", whose)).toEqual([
      "With less reserve, low-level loses 1260 items and has 95 % from 6.3 min on, but leaves 28 % of the stock that doing nothing leaves in the buffers: the line no longer bridges 2.4 min of a feed that stops.",
    ]);
    expect(of("with-hands", whose)[0]).toContain(
      "It asks for hands for 1920 items beside the running line, 8 min at 240/min.",
    );
    expect(of("with-hands")).toEqual([]);
  });

  test("limits that are broken are told right after what is recommended: how long, and by how much", () => {
    const broken = [
      {
        what: "hold-up",
        place: null,
        item: "tray",
        limit: 600,
        peak: 665,
        over_min: 214,
        over_items: null,
        of_min: 240,
      },
      { what: "dwell", place: null, item: null, limit: 6, peak: 8.7, over_min: null, over_items: 9000, of_min: 240 },
    ] as const;
    const tactics = comparison.tactics.map((one) => (one.id === "low-level" ? one : { ...one, limits_broken: broken }));
    const [, second] = comparisonFindings({ ...comparison, tactics });
    expect([second?.code, plain(second?.text ?? "")]).toEqual([
      "limits",
      "stocked breaks limits: up to 665 tray lie on the line, 65 over the limit of 600, which is broken for 3 h 34 min of 4 h and 9000 items lie longer than 6 min, up to 8.7 min. All limits are kept by low-level.",
    ]);
    expect(of("limits", { ...comparison, tactics, winner: "low-level" })[0]).toContain(
      "The limits are kept; with doing",
    );
    expect(of("limits")).toEqual([]);
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
    expect(choicePicture({ ...comparison, tactics: some }).finding).toContain("At a standstill: boosted.");
  });

  test("which are the choice, which are beaten by which, which don't settle", () => {
    expect(of("choice")).toEqual([
      "The choice is between stocked, tail-stocked, low-level and held-until-full: none of these is beaten.",
    ]);
    expect(of("beaten")[0]).toContain("half-stocked by tail-stocked; metered, boosted, second-feed and doing nothing");
    expect(of("unsettled")).toEqual(["Not settled yet within 24 h: far-end-first."]);
    expect(of("unproved")).toEqual(["The settling time of second-feed is read from the run, not proved."]);
    expect(of("note")[0]).toContain("carries no more: the feeds run at 125 % at most");
  });

  test("not settled yet and slower for good are two things", () => {
    const tactics = comparison.tactics.map((one) => (one.id === "metered" ? { ...one, slower_for_good: true } : one));
    expect(of("slower", { ...comparison, tactics })).toEqual([
      "Slower for good, which no start makes up for: metered.",
    ]);
    expect(of("slower")).toEqual([]);
  });

  test("while the feed stops: the most, the least, and between them what is recommended and the line as it is", () => {
    expect(of("while-stopped")).toEqual([
      "While the feed stops, from 5 min to 10 min after the start, the line makes 3180 items with stocked, the most, 1046 with doing nothing (none) and 90 with tail-first, the least.",
    ]);
  });
});

describe("the terminal", () => {
  test("80 columns hold it, whatever the names", () => {
    for (const whose of [comparison, hostile.comparison]) {
      const text = comparisonText(whose, PLAIN_STYLE, { details: true });
      expect(Math.max(...text.split("\n").map((line) => textWidth(line)))).toBeLessThanOrEqual(80);
      expect(text).not.toContain("\u001b");
    }
  });

  test("a row each, those not beaten marked, and the mark explained", () => {
    const lines = comparisonText(comparison, PLAIN_STYLE, { details: true }).split("\n");
    expect(lines.filter((line) => /^[* ] \S+ +([\d.]+|–) +([\d.]+|–) /.test(line))).toHaveLength(11);
    expect(lines.filter((line) => /^\* \S+ +[\d.]/.test(line)).map((line) => line.split(" ")[1])).toEqual([
      "stocked",
      "tail-stocked",
      "low-level",
      "held-until-full",
    ]);
    expect(lines.find((line) => line.startsWith("* stocked"))).toMatch(/1\.6 .* 120 +1920 +100 +3780 +3180/);
    expect(lines.some((line) => line.startsWith("* Not beaten: "))).toBe(true);
  });

  test("cautions where hands go in, and only there, naming the tactics", () => {
    const text = comparisonText(comparison, PLAIN_STYLE, { details: true }).replaceAll(/\s+/g, " ");
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
      "## Pictures",
      "## Findings",
      "## Tactics",
      "## Notes",
      "## Assumptions",
      "## Cautions",
    ]);
    expect(report).not.toMatch(/<b>|<i>/);
    const tables = report.split("\n\n").filter((block) => block.startsWith("|"));
    expect(tables).toHaveLength(4);
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

test("comparison.csv and comparison.json: a row a tactic; the comparison in words", async () => {
  const files = await comparisonFiles(comparison, curves, { charts: false });
  expect([...files.keys()]).toEqual(["report.md", "comparison.csv", "comparison.json"]);
  const rows = String(files.get("comparison.csv")).trimEnd().split("\r\n");
  expect(rows).toHaveLength(12);
  expect(rows[0]?.startsWith("tactic,does,settling_min,proved,to_95_min,ramp_up_loss_items,items_handled,")).toBe(true);
  expect(rows.find((row) => row.startsWith("far-end-first,"))).toContain(",,no,,,0,");
  expect(JSON.parse(String(files.get("comparison.json")))).toEqual({
    format: "fillfront-compare",
    format_version: 1,
    ...comparisonTold(comparison),
  });
  expect(comparisonTold(comparison).tactics[0]).toMatchObject({
    ...{ id: "stocked", ramp_up_loss: 120, does: "every buffer full, by hand at 240/min beside the running line" },
    asks_for: ["hands for 1920 items beside the running line, 8 min at 240/min"],
  });
});

describe("pictures", () => {
  test("each a PNG of its size with the winner below its title, the same bytes each time", async () => {
    const files = await comparisonFiles(comparison, curves, { charts: true });
    const pictures = comparisonPictures(comparison, curves);
    expect(pictures.map(({ file }) => file)).toEqual(["choice.png", "output.png", "missing.png"]);
    for (const picture of pictures) {
      expect(picture.title).toContain("Twenty-four tray sealers");
      expect(picture.finding).toMatch(/^stocked .*\d.*\.$/);
      const png = Buffer.from(files.get(picture.file) ?? "");
      expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([picture.width, picture.height]);
      expect(png.length).toBeGreaterThan(20_000);
      expect(png.equals(await paint(picture))).toBe(true);
    }
  });

  test("choice: a row each, the least loss on top, what is not beaten filled, time and handling beside", () => {
    const shown = choicePicture(comparison);
    const rows = comparison.tactics
      .toSorted((a, b) => (a.ramp_up_loss ?? Infinity) - (b.ramp_up_loss ?? Infinity))
      .map(({ id }) => (id === "none" ? "none (as it is)" : id));
    expect(shown.config.options?.scales?.y).toMatchObject({ labels: rows });
    expect(dataset(shown, "not beaten").data).toContainEqual({ x: 120, y: 0 });
    expect(dataset(shown, "not beaten").data).toHaveLength(4);
    expect(dataset(shown, "beaten").data).toHaveLength(5);
    expect(shown.finding).toContain("Not settled yet within 24 h: far-end-first.");
    expect(pluginIds(shown)).toEqual(["sideColumns", "key"]);
  });

  test("what is beaten by far does not press the others together", () => {
    const tactics = comparison.tactics.map((one) =>
      one.id === "boosted" ? { ...one, settling_min: 200, ramp_up_loss: 90_000 } : one,
    );
    const shown = choicePicture({ ...comparison, tactics });
    expect(dataset(shown, "beaten").data).toHaveLength(4);
    expect(shown.finding).toMatch(/Beyond the picture: .*boosted/);
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
