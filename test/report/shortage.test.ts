import { describe, expect, test } from "vitest";
import { dipFiles, shortageFiles } from "../../src/report/files/shortage-files.ts";
import { dipPictures, paint, shortagePictures } from "../../src/report/pictures.ts";
import { dipFindings } from "../../src/report/shortage/dip-findings.ts";
import { dipPicture } from "../../src/report/shortage/dip-picture.ts";
import { dipMarkdown, dipText } from "../../src/report/shortage/dip-report.ts";
import { variantsTold } from "../../src/report/shortage/shortage-figures.ts";
import { shortageFindings } from "../../src/report/shortage/shortage-findings.ts";
import { evennessPicture, shortageOutputPicture } from "../../src/report/shortage/shortage-pictures.ts";
import { shortageMarkdown, shortageText } from "../../src/report/shortage/shortage-report.ts";
import { plain } from "../../src/report/text/figures.ts";
import { PLAIN_STYLE } from "../../src/report/text/terminal-lines.ts";
import { textWidth } from "../../src/report/text/text-width.ts";
import type { Dip, Shortage, ShortageLevel } from "../../src/study/shortage/shortage-results.ts";
import { dipSample, shortageSample } from "./shortage-sample.ts";

const shortage = shortageSample();

function of(code: string, whose: Shortage = shortage): string[] {
  return shortageFindings(whose).flatMap((finding) => (finding.code === code ? [plain(finding.text)] : []));
}

function ofDip(code: string, whose: Dip = dipSample().dip): string[] {
  return dipFindings(whose).flatMap((finding) => (finding.code === code ? [plain(finding.text)] : []));
}

/** Every level changed alike. */
function withLevels(change: (level: ShortageLevel) => ShortageLevel, whose: Shortage = shortage): Shortage {
  return { ...whose, levels: whose.levels.map(change) };
}

describe("findings on output", () => {
  test("the same in every variant, or where they differ most", () => {
    expect(of("output")).toEqual([
      "Every variant makes the same at every level, in proportion to the feed: only who works differs.",
    ]);
    const differing = shortageSample({ yields: [0.9, 0.8, 1, 1] });
    expect(of("output", differing)[0]).toMatch(/^The variants differ most in output at \d+ % of the feed: /);
    expect(of("output", differing)[0]).toMatch(/with through first, .* with branch first\.$/);
    expect(of("ideal", differing)).toHaveLength(1);
    expect(of("ideal")).toEqual([]);
  });

  test("not in proportion where all are short of it alike", () => {
    const short = withLevels((level) => ({ ...level, ideal_per_min: level.ideal_per_min * 1.1 }));
    expect(of("output", short)).toEqual(["Every variant makes the same at every level: only who works differs."]);
    expect(of("ideal", short)[0]).toContain("most of all at 100 % of it: 120/min of 132/min");
  });

  test("in proportion only as far as that is so", () => {
    const capped = (most: number, whose = shortage): Shortage =>
      withLevels((level) => {
        const made = (one: string | null): string => String(Math.min(most, Number(one)));
        const variants = level.variants.map((one) => ({ ...one, settled_per_min: made(one.settled_per_min) }));
        return { ...level, ideal_per_min: Math.min(most, level.ideal_per_min), variants };
      }, whose);
    const said = (most: number, percents?: number[]): string | undefined =>
      of("output", capped(most, percents === undefined ? shortage : shortageSample({ percents })))[0];
    const head = "Every variant makes the same at every level, ";
    const tail = ": only who works differs.";
    expect(said(120)).toBe(`${head}in proportion to the feed${tail}`);
    expect(said(100)).toBe(`${head}in proportion to the feed up to 80 % of it and no more from 90 % on${tail}`);
    expect(said(108)).toBe(`${head}in proportion to the feed up to 90 % of it and no more above that${tail}`);
    expect(said(112)).toBe(`${head}in proportion to the feed up to 90 % of it and less than that at 100 %${tail}`);
    expect(said(12)).toBe(`${head}as much at 10 % of the feed as at 100 %${tail}`);
    expect(said(100, [50, 40])).toBe(`${head}in proportion to the feed${tail}`);
    // More than in proportion, which unlike cycles may come to, is not in proportion either.
    const more = withLevels((level) => ({ ...level, ideal_per_min: level.ideal_per_min * 0.9 }));
    expect(of("output", more)).toEqual(["Every variant makes the same at every level: only who works differs."]);
  });

  test("how long it takes to settle, where a short feed makes it much longer", () => {
    expect(of("ramp")).toEqual([]);
    const slow = withLevels((level) => ({
      ...level,
      variants: level.variants.map((result) => ({
        ...result,
        settling_min: result.id === "as-written" ? (level.level === "50/100" ? 90 : 12) : 3,
      })),
    }));
    expect(of("ramp", slow)[0]).toMatch(
      /^As written it takes longest to settle at 50 % of the feed: 90 min \(branch first 3 min, .*\), and 12 min at 100 %\./,
    );
  });

  const DWELL = { what: "dwell", place: null, item: "tray", limit: 2, peak: 3, over_min: null, of_min: 240 } as const;

  test("limits, where some are stated", () => {
    expect(of("limits")).toEqual([]);
    const limited = withLevels((level) => ({
      ...level,
      variants: level.variants.map((result) => {
        const isTree = result.id === "tree";
        const limits = [{ ...DWELL, over_items: 12 }];
        return {
          ...result,
          over_limit_min: 0,
          over_limit_items: isTree ? 0 : 12,
          limits_broken: isTree ? [] : limits,
        };
      }),
    }));
    expect(of("limits", limited)[0]).toMatch(
      /^Limits at 100 % of the feed: all are kept by even tree; as written: 12 items of tray lie longer than 2 min, up to 3 min; /,
    );
  });

  test("a standstill is no output and no steady one", () => {
    const still = shortageSample({ yields: [0, 0, 0, 0] });
    expect(of("stopped", still)).toEqual(["The plant comes to a standstill in every variant and at every level."]);
    expect(of("stopped", shortageSample({ yields: [0, 1, 1, 1] }))).toEqual([
      "The plant comes to a standstill: as written at every level.",
    ]);
    expect([...of("output", still), ...of("steady", still), ...of("evenness", still)]).toEqual([]);
    expect(of("who", still)[0]).toContain("all 4 machines stand still");
    expect(of("held", still)[0]).toContain("takes 0/min of the 120/min that dock offers");
    expect(shortageText(still)).toContain("stops");
    expect(shortageMarkdown(still, [])).toMatch(/\| stops \d/);
    expect(shortageText(shortage)).not.toContain("stops");
  });

  test("a standstill takes no time to settle, and is steady nowhere", () => {
    const still = withLevels((level) => ({
      ...level,
      variants: level.variants.map((result) =>
        level.level === "50/100" ? { ...result, settled_per_min: "0", settling_min: null, stops_at_min: 90 } : result,
      ),
    }));
    expect(of("ramp", still)).toEqual([]);
    expect(of("steady", still)[0]).toMatch(/^The settled output is steady wherever the plant runs: /);
  });

  test("which swing, from where on, and how much", () => {
    expect(of("steady")).toHaveLength(1);
    expect(of("swing")).toEqual([]);
    const swinging = shortageSample({ swinging: ["branch-first"] });
    expect(of("steady", swinging)).toEqual([]);
    expect(of("swing", swinging)).toEqual([
      "Branch first: the settled output swings, first at 70 % of the feed: between 67.2/min and 105/min around 84/min, with a period of 6.5 min.",
    ]);
    expect(of("output", swinging)[0]).toContain("only who works, and how steadily, differs");
    const once = shortageSample({ swinging: ["tree"], percents: [100, 50] });
    expect(of("swing", once)[0]).toMatch(/^Even tree: the settled output swings at 50 % of the feed: between/);
  });
});

describe("findings on who works", () => {
  test("chain and tree at half feed", () => {
    expect(of("who")).toEqual([
      "At 50 % of the feed: as written, branch first and through first: 2 of 4 machines run fully, 2 not at all; even tree: all 4 machines run at 50 %.",
    ]);
    expect(of("who", shortageSample({ machines: 30, percents: [65] }))[0]).toContain(
      "19 of 30 machines run fully, 1 at 50 %, 10 not at all; even tree: all 30 machines run at 65 %",
    );
    expect(of("who", shortageSample({ percents: [100] }))).toEqual([]);
  });

  test("how evenly", () => {
    expect(of("evenness")[0]).toContain("even tree 1, as written 0.5, branch first 0.5, through first 0.5.");
  });

  test("who starves first, or even at full feed", () => {
    expect(of("starving")).toEqual(["As written sealer-4 is the first to starve, at 90 % of the feed."]);
    expect(of("starving", shortageSample({ yields: [0.5, 1, 1, 1] }))).toEqual([
      "As written sealer-3 and sealer-4 starve even at full feed.",
    ]);
    expect(of("starving", shortageSample({ percents: [100] }))).toEqual([]);
  });
});

describe("findings on the plant", () => {
  test("unequal needs, unlike products, lines that stay chains, far ends left out, vehicles", () => {
    expect(of("tree-needs", { ...shortage, unequal_needs: ["main"] })[0]).toContain("are not a good layout there");
    const unlike = { ...shortageSample({ yields: [0.9, 0.8, 1, 1] }), products: ["tray", "crate"] };
    expect(of("products", unlike)[0]).toContain("(tray and crate)");
    expect(of("ideal", unlike)).toEqual([]);
    const [first, ...others] = shortage.variants.toReversed();
    if (first === undefined) throw new Error("the sample has variants");
    const kept = [{ line: "side", why: "custom" } as const];
    const tree = { ...first, kept, ends_left_out: ["return"] };
    const plant = { ...shortage, variants: [...others.toReversed(), tree] };
    expect(of("tree-kept", plant)).toEqual(["Not drawn as a tree: side (a custom line)."]);
    expect(of("tree-ends", plant)).toEqual(["A tree has no far end: the return belt is left out of it."]);
    expect(of("no-chain", { ...shortage, variants: shortage.variants.slice(0, 1) })).toHaveLength(1);
    const batched = withLevels((level) => ({ ...level, batches: [{ feed: "dock", items: 45 }] }), {
      ...shortage,
      feeds: [{ id: "dock", rate_per_min: "120", batch_items: 450 }],
    });
    expect(of("batch", batched)[0]).toContain("at 10 % 45 items of 450");
  });

  test("what has not settled or is not proved", () => {
    const open = withLevels((level) => ({
      ...level,
      variants: level.variants.map((result) => ({
        ...result,
        proved: false,
        basis: result.id === "branch-first" ? "measured" : "flow",
        settling_min: result.id === "tree" || result.id === "branch-first" ? null : result.settling_min,
      })),
    }));
    expect(of("unsettled", open)[0]).toContain("measured over its last quarter: branch first at 100 %");
    expect(of("unsettled", open)[1]).toContain("the flow solution's: even tree at 100 %");
    expect(of("unproved", open)[0]).toContain("as written at 100 %");
  });
});

describe("findings on a dip", () => {
  test("what is lost, how low it goes, how long it takes", () => {
    expect(ofDip("lost")).toEqual([
      "The feed at 50 % for 30 min is 1800 items short. Products not made up to the horizon: about 1799 in every variant.",
    ]);
    expect(ofDip("lowest")[0]).toContain("as written 60/min (50 % of the settled output)");
    expect(ofDip("recovery")[0]).toContain(
      "even tree 30 s; through first 10 min; branch first 12 min; as written 14 min.",
    );
    expect(ofDip("tolerance")[0]).toMatch(/: even tree 36 s; through first 9\.5 min; .*as written 13\.5 min\.$/);
    expect(ofDip("stock")[0]).toContain("branch first from 340 to 280");
    expect([...ofDip("early"), ...ofDip("not-recovered")]).toEqual([]);
  });

  test("a dip that is not felt, one from which there is no way back, one that came too early", () => {
    const { dip } = dipSample();
    const change = (what: Partial<Dip["results"][number]>): Dip => {
      return { ...dip, results: dip.results.map((result) => ({ ...result, ...what })) };
    };
    expect(ofDip("recovery", change({ recovery_min: 0, lost: 0 }))[0]).toContain("does not feel the dip");
    expect(ofDip("not-recovered", change({ recovery_min: null }))).toHaveLength(1);
    expect(ofDip("early", change({ settled_before: false }))).toHaveLength(1);
    const stops = { stops_at_min: 160, recovery_min: null, within_tolerance_min: null };
    expect(ofDip("stopped", change(stops))[0]).toMatch(
      /^The dip brings the plant to a standstill: as written from 2 h 40 min on, /,
    );
    expect(ofDip("not-recovered", change(stops))).toEqual([]);
    expect(ofDip("stopped", change({ ...stops, stops_without_min: 170 }))[0]).toMatch(
      /^Comes to a standstill even without the dip: as written from 2 h 50 min on, /,
    );
    expect(ofDip("stopped")).toEqual([]);
  });
});

test("the terminal: 80 columns, a row for each level and variant, many cut short", () => {
  const widest = (text: string): number => Math.max(...text.split("\n").map((line) => textWidth(line)));
  const text = shortageText(shortage, PLAIN_STYLE, { details: true });
  expect(widest(text)).toBeLessThanOrEqual(80);
  expect(
    text.split("\n").filter((line) => /^.{6}(as written|branch first|through first|even tree) /.test(line)),
  ).toHaveLength(40);
  const percents = Array.from({ length: 50 }, (_, i) => 100 - 2 * i);
  expect(shortageText(shortageSample({ percents }), PLAIN_STYLE, { details: true })).toContain(
    "… 30 more levels, in shortage.csv",
  );
  expect(widest(dipText(dipSample().dip))).toBeLessThanOrEqual(80);
});

test("files: report, CSV with a row for each level and variant, JSON in words", async () => {
  const files = await shortageFiles(shortage, { charts: false });
  expect([...files.keys()]).toEqual(["report.md", "shortage.csv", "shortage.json"]);
  const rows = String(files.get("shortage.csv")).trimEnd().split("\r\n");
  expect(rows).toHaveLength(41);
  expect(rows[0]).toContain("share_of_need:sealer-4");
  expect(rows[24]).toBe("0.5,tree,60,60,recurrence,0.5,60,60,0.1,no,1,main,4,0.5,,180,,,0.5,0.5,0.5,0.5");
  expect(JSON.parse(String(files.get("shortage.json")))).toEqual({
    format: "fillfront-shortage",
    format_version: 1,
    ...variantsTold(shortage),
  });
  expect(variantsTold(shortage).variants.map(({ does }) => does)).toEqual([
    "even dividers, as written",
    "the branch first at every divider",
    "the through belt first at every divider",
    "even trees for the chains",
  ]);

  const { dip, curves } = dipSample();
  const dipped = await dipFiles(dip, curves, { charts: false });
  expect([...dipped.keys()]).toEqual(["report.md", "dip.csv", "dip.json"]);
  expect(String(dipped.get("dip.csv")).trimEnd().split("\r\n")).toHaveLength(5);
  expect(JSON.parse(String(dipped.get("dip.json")))).toEqual({
    format: "fillfront-dip",
    format_version: 1,
    ...variantsTold(dip),
  });
});

test("report.md: sections in order, cells in columns, nothing taken for markup", () => {
  const sections = (report: string): string[] => report.split("\n").filter((line) => line.startsWith("## "));
  const report = shortageMarkdown({ ...shortage, title: "a|<b>" }, []);
  expect(sections(report)).toEqual([
    "## Findings",
    "## Levels",
    "## Shares of the need at 50 % of the feed",
    "## Variants",
    "## Assumptions",
    "## Cautions",
  ]);
  const dipped = dipMarkdown({ ...dipSample().dip, title: "a|<b>" }, []);
  expect(sections(dipped)).toEqual(["## Findings", "## Outcome", "## Variants", "## Assumptions", "## Cautions"]);
  for (const text of [report, dipped]) {
    expect(text).not.toContain("<b>");
    for (const table of text.split("\n\n").filter((block) => block.startsWith("|"))) {
      expect(new Set(table.split("\n").map((line) => line.split("|").length)).size).toBe(1);
    }
  }
});

describe("pictures", () => {
  test("PNGs of their size, the same bytes each time", async () => {
    const files = await shortageFiles(shortage, { charts: true });
    expect(shortagePictures(shortage).map(({ file }) => file)).toEqual(["shortage.png", "evenness.png"]);
    const { dip, curves } = dipSample();
    const dipped = await dipFiles(dip, curves, { charts: true });
    for (const picture of [...shortagePictures(shortage), ...dipPictures(dip, curves)]) {
      expect(picture.finding).toMatch(/\.$/);
      const png = Buffer.from(files.get(picture.file) ?? dipped.get(picture.file) ?? "");
      expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([picture.width, picture.height]);
      expect(png.length).toBeGreaterThan(15_000);
      expect(png.equals(await paint(picture))).toBe(true);
    }
  });

  test("variants that make the same share a line; what is in proportion bends where output is full", () => {
    const { datasets } = shortageOutputPicture(shortage).config.data;
    expect(datasets.map(({ label }) => label)).toEqual(["as written, branch first, through first, even tree", "ideal"]);
    const over = withLevels((level) => ({ ...level, ideal_per_min: Math.min(90, level.ideal_per_min) }));
    expect(shortageOutputPicture(over).config.data.datasets.at(-1)?.data).toEqual([
      { x: 0, y: 0 },
      { x: 75, y: 90 },
      { x: 100, y: 90 },
    ]);
  });

  test("a swing is a stroke from lowest to highest at its level, and nothing between levels", () => {
    const { datasets } = shortageOutputPicture(shortageSample({ swinging: ["tree"], percents: [80, 60] })).config.data;
    const strokes = datasets.find(({ label }) => label === "even tree swings")?.data ?? [];
    expect(strokes.map(({ y }) => y)).toEqual([57.6, 90, Number.NaN]);
    expect(new Set(strokes.map(({ x }) => x)).size).toBe(1);
    expect(Math.abs((strokes[0]?.x ?? 0) - 60)).toBeLessThan(2);
  });

  test("evenness, from 0 to 1; no point where nobody has anything", () => {
    const datasets = evennessPicture(shortage)?.config.data.datasets ?? [];
    expect(datasets.map(({ label }) => label)).toEqual(["as written, branch first, through first", "even tree"]);
    const finding = evennessPicture(shortage)?.finding ?? "";
    expect(finding).toBe(
      "Jain's index at 50 % of the feed: even tree 1, as written 0.5, branch first 0.5, through first 0.5.",
    );
    // Nothing of it is cut off below the title.
    const shown = evennessPicture(shortage)?.config.options?.plugins?.subtitle?.text;
    expect([shown].flat().join(" ")).toBe(finding);
    expect(evennessPicture(shortageSample({ yields: [0, 1, 1, 1] }))?.config.data.datasets).toHaveLength(2);
    expect(evennessPicture(shortageSample({ yields: [0, 0, 0, 0] }))).toBeNull();
  });

  test("a dip: one line for equal curves, marks where it begins and ends", () => {
    const { dip, curves } = dipSample();
    const picture = dipPicture(dip, curves);
    expect(picture.config.data.datasets).toHaveLength(4);
    expect((picture.config.plugins ?? []).map(({ id }) => id)).toEqual(["timeMarks", "pointLabels"]);
    const [first] = curves;
    const twins = curves.map((curve) => ({ ...curve, outputPerMin: first?.outputPerMin ?? [] }));
    expect(dipPicture(dip, twins).config.data.datasets).toHaveLength(1);
  });

  test("one level, thirty machines, no curves: still pictures", async () => {
    const studies = [shortageSample({ percents: [50] }), shortageSample({ machines: 30, yields: [0, 0, 0, 0] })];
    for (const picture of studies.flatMap(shortagePictures))
      expect((await paint(picture)).length).toBeGreaterThan(5_000);
    for (const picture of dipPictures(dipSample().dip, []))
      expect((await paint(picture)).length).toBeGreaterThan(5_000);
  });
});
