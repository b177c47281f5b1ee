import { describe, expect, test } from "vitest";
import type { Picture, PictureDataset } from "../../src/report/chart/frame.ts";
import { layoutsFiles } from "../../src/report/files/layouts-files.ts";
import { layoutsTold } from "../../src/report/layouts/because-text.ts";
import { WEIGHED as WEIGHED_TEXTS } from "../../src/report/layouts/layout-words.ts";
import { bestIn, layoutsFindings, whatIsWeighed } from "../../src/report/layouts/layouts-findings.ts";
import { layoutsMarkdown } from "../../src/report/layouts/layouts-markdown.ts";
import { layoutsChoicePicture, layoutsOutputPicture } from "../../src/report/layouts/layouts-pictures.ts";
import { layoutsText } from "../../src/report/layouts/layouts-text.ts";
import { layoutsPictures, paint } from "../../src/report/pictures.ts";
import { listed, plain } from "../../src/report/text/figures.ts";
import { PLAIN_STYLE } from "../../src/report/text/terminal-lines.ts";
import { textWidth } from "../../src/report/text/text-width.ts";
import type { LayoutResult, LayoutStudy } from "../../src/study/layouts/layout-results.ts";
import { WEIGHED } from "../../src/study/layouts/weighed.ts";
import { layoutsSample } from "./layouts-sample.ts";

const sample = layoutsSample();
const { study, curves } = sample;

function of(code: string, whose: LayoutStudy = study): string[] {
  return layoutsFindings(whose).flatMap((finding) => (finding.code === code ? [plain(finding.text)] : []));
}

/** The study with one layout, or all, otherwise. */
function changed(id: string | null, change: Partial<LayoutResult>): LayoutStudy {
  const layouts = study.layouts.map((one) => (id === null || one.id === id ? { ...one, ...change } : one));
  return { ...study, layouts };
}

const nothing: LayoutStudy = {
  ...changed(null, { feasible: false, reason: { why: "not-run", findings: ["the feed is short"] }, file: null }),
  recommended: null,
  recommended_because: { why: "none-buildable" },
};

const kept = { over_limit_min: 0, over_limit_items: 0 };
const limited: LayoutStudy = {
  ...study,
  layouts: study.layouts.map((one) => {
    if (!one.feasible) return one;
    return one.id === "chain" ? { ...one, over_limit_min: 30, over_limit_items: 1700 } : { ...one, ...kept };
  }),
};

const bestFor = (...asked: Parameters<typeof bestIn>): string[] => bestIn(...asked).map(({ best }) => best);

describe("findings", () => {
  test("the recommended one first, with its reason and for which priority", () => {
    expect(layoutsFindings(study)[0]?.code).toBe("recommended");
    expect(of("recommended")).toEqual([
      "Recommended for a short ramp-up (priority fast): loop settles soonest, at 36 s instead of 24.6 min for the chain, with 21 dividers and 1 merge instead of 29 dividers.",
    ]);
    expect(of("recommended", nothing)).toEqual([
      "None is recommended for a short ramp-up (priority fast): none of the layouts can be built as the line is.",
    ]);
  });

  test("what else is not beaten, and what each is best for", () => {
    expect(of("choice")).toEqual([
      "Not beaten either: chain (the least floor, the least to tear out for one more and the least belt); tree-of-6-chains (less floor, less belt and more headroom than loop).",
    ]);
    // What the recommended one is as good in is no reason for another.
    const [fewer, settling_min] = [{ dividers: 3, settling_min: 0.6 }, 0.6];
    expect(of("choice", changed("tree-of-6-chains", fewer))[0]).toContain(
      "tree-of-6-chains (the fewest dividers and merges)",
    );
    const alike = { ...study.layouts.find(({ id }) => id === "loop"), settling_min };
    const { id: _, ...rest } = alike;
    expect(of("choice", changed("chain", rest))[0]).toContain("chain (as good)");
    const alone = changed(null, { undominated: false });
    expect(of("choice", alone)).toEqual([
      "There is nothing to weigh: none is better than loop in anything that counts.",
    ]);
  });

  test("best is who has least, of even shares and headroom who has most, together with its equals", () => {
    const all = study.layouts.filter(({ feasible }) => feasible);
    const [chain, loop] = all;
    if (chain === undefined || loop === undefined) throw new Error("no layouts");
    expect(bestFor(loop, all)).toEqual([
      "the shortest ramp-up",
      "the least loss",
      "the least hold-up",
      "the most even shares of a short feed",
      "the fewest dividers and merges",
      "the shortest dwell",
    ]);
    expect(bestFor(chain, all)).toContain("the least to tear out for one more");
    expect(bestFor(chain, [chain, { ...chain, id: "other" }])).toEqual([]);
  });

  test("what is beaten, and by which", () => {
    expect(of("beaten")).toEqual([
      "Beaten, no better in anything that is weighed and worse in something: chain-of-trees-of-6 by loop.",
    ]);
  });

  test("what cannot be built, why, and what would do", () => {
    expect(of("infeasible")).toEqual([
      "tree cannot be built: dividers of two and three ways cannot make 30 parts; what would do: a loop of 32.",
    ]);
    expect(of("infeasible", nothing)).toHaveLength(5);
    expect(of("infeasible", changed("tree", { reason: null }))).toEqual(["tree cannot be built."]);
  });

  test("which keep all limits, and by how much the others do not; nothing without limits", () => {
    expect([...of("limits"), ...of("over-limits")]).toEqual([]);
    expect(of("over-limits", limited)).toEqual([
      "All limits are kept by loop, tree-of-6-chains and chain-of-trees-of-6; not by chain (over a limit for 30 min, 1700 items too long there).",
    ]);
    expect(of("limits", changed(null, kept))).toHaveLength(1);
    expect(of("over-limits", changed(null, { over_limit_items: 1 }))[0]).toMatch(
      /^None keeps all limits: chain \(1 item too long there\); /,
    );
    const all = limited.layouts.filter(({ feasible }) => feasible);
    const [chain, loop] = all;
    if (chain === undefined || loop === undefined) throw new Error("no layouts");
    expect(bestFor(loop, [chain, loop])).toContain("all limits kept");
    expect(bestFor(chain, [chain, loop])).not.toContain("all limits kept");
  });

  test("what priming gives in each, and where it gives nothing", () => {
    expect(of("primed")).toEqual([
      "Best primed: chain with stocked, 1920 items handled, settles at 1.6 min instead of 24.6 min.",
      "No priming is better than doing nothing with loop and chain-of-trees-of-6.",
    ]);
    // Without hands only if it is sooner than the loop, unprimed, at 36 s.
    const mixed = study.layouts.find(({ id }) => id === "tree-of-6-chains")?.primed ?? null;
    const primedAt = (at: number) => changed("tree-of-6-chains", { primed: mixed && { ...mixed, settling_min: at } });
    expect(
      of("primed", { ...primedAt(2.1), layouts: primedAt(2.1).layouts.filter(({ id }) => id !== "loop") })[0],
    ).toBe(
      "Best primed: chain with stocked, 1920 items handled, settles at 1.6 min instead of 24.6 min; without hands tree-of-6-chains with low-level settles at 2.1 min instead of 6.1 min.",
    );
    expect(of("primed", primedAt(0.6))[0]).not.toContain("without hands");
    const [chain] = study.layouts;
    const easier = { primed: chain?.primed ? { ...chain.primed, settling_min: 1.61, items_handled: 9 } : null };
    expect(of("primed", changed("loop", easier))[0]).toContain(
      "Best primed: loop with stocked, 9 items handled, settles at 1.6 min instead of 36 s",
    );
    // Less lost, but no sooner.
    expect(of("primed", changed("chain", { settling_min: 1.6 }))[0]).toContain("Best primed: tree-of-6-chains with");
  });

  test("what does not settle, stops, makes less, or is not proved", () => {
    expect(of("unproved")).toEqual(["The settling time of tree-of-6-chains is read from the run, not proved."]);
    expect(of("unsettled", changed("chain", { settling_min: null }))).toEqual(["Not settled yet within 2 h: chain."]);
    const slower = { why: "makes-less", best: "loop", best_makes: 360 } as const;
    const still = changed("chain", { settling_min: null, settled_per_min: 0, reason: { ...slower, makes: 0 } });
    expect(of("stopped", still)).toEqual(["chain: it comes to a standstill, where loop makes 360/min."]);
    expect(of("unsettled", still)).toEqual([]);
    expect(of("output")).toEqual([]);
    const less = { settled_per_min: 300, reason: { ...slower, makes: 300.00001 } };
    expect(of("output", changed("chain", less))).toEqual([
      "chain: it is slower for good: it settles at 300/min, where loop makes 360/min.",
    ]);
  });

  test("what counts is what the study weighs", () => {
    const texts = WEIGHED.map(({ name }) => WEIGHED_TEXTS[name]);
    expect(whatIsWeighed(limited)).toBe(listed(texts));
    expect(whatIsWeighed(study)).toBe(listed(texts.filter((text) => text !== "limits kept")));
  });
});

describe("the terminal", () => {
  test("80 columns hold it, whatever the names, and every name is whole", () => {
    const long = layoutsSample({ title: "a\u001b[31m".repeat(30), line: "b".repeat(200) }).study;
    for (const whose of [study, long, nothing, limited, changed("chain", { settled_per_min: 300 })]) {
      const text = layoutsText(whose, PLAIN_STYLE, { details: true });
      expect(Math.max(...text.split("\n").map((line) => textWidth(line)))).toBeLessThanOrEqual(80);
      expect(text).not.toContain("\u001b");
    }
    expect(layoutsText(study, PLAIN_STYLE, { details: true })).not.toContain("…");
  });

  test("two tables: what each does, what it takes to build; those not beaten marked, the mark explained", () => {
    const lines = layoutsText(study, PLAIN_STYLE, { details: true }).split("\n");
    const rows = (id: string): string[] =>
      lines.filter((line) => line.startsWith(id) && /\d *(?:$| [\u2212–])/.test(line));
    expect(rows("* loop").map((row) => row.split(/ +/).slice(2))).toEqual([
      ["0.6", "96", "260", "262", "0.7", "1"],
      ["21", "1", "141", "398.4", "16", "+1", "\u22121"],
    ]);
    expect(rows("  chain-of-trees-of-6 ")).toHaveLength(2);
    expect(rows("  tree ")).toEqual([]);
    expect(lines.find((line) => line.startsWith("* chain ") && line.endsWith(" stocked"))).toMatch(
      / 1\.6 +120 +1920 +2240 +stocked$/,
    );
    expect(lines.some((line) => line.startsWith("* Not beaten: "))).toBe(true);
    expect(layoutsText(nothing, PLAIN_STYLE, { details: true })).not.toContain("headroom");
  });

  test("a feed that ends is said to end", () => {
    const said = (whose: LayoutStudy): string =>
      layoutsText(whose, PLAIN_STYLE, { details: true }).replaceAll(/\s+/g, " ");
    expect(said(study)).toContain("30 machines that need 360/min, fed 360/min; dividers of two and three ways.");
    expect(said({ ...study, feed_per_min: 0 })).toContain("fed by a feed that ends; dividers");
  });

  test("what all make is a column only where they differ", () => {
    expect(layoutsText(study, PLAIN_STYLE, { details: true })).not.toContain("makes");
    expect(layoutsText(changed("chain", { settled_per_min: 300 }))).toContain("makes");
  });

  test("cautions: on drawings and hazardous goods always, on hands where priming takes them", () => {
    const said = (whose: LayoutStudy): string =>
      layoutsText(whose, PLAIN_STYLE, { details: true }).replaceAll(/\s+/g, " ");
    for (const whose of [study, nothing]) {
      expect(said(whose)).toContain("is no installation plan: guards, emergency stops, escape ways and clearances");
      expect(said(whose)).toContain("hazardous goods, the quantities permitted on the line come from local codes");
    }
    expect(said(study)).toContain("hands go into the line with stocked:");
    expect(said(study)).toContain("stop, isolate and lock out");
    expect(said(changed("chain", { primed: null }))).not.toContain("lock out");
  });
});

describe("report.md", () => {
  const files = {
    files: new Set(["loop.yaml", "loop.svg", "loop.png", "chain.yaml"]),
    undrawn: new Map([["chain", "a drawing shows at most 150 machines"]]),
  };

  test("sections in order, every cell in its column, nothing hostile", () => {
    const report = layoutsMarkdown({ ...study, title: "a|<b>" }, [], files);
    expect(report.split("\n").filter((line) => line.startsWith("## "))).toEqual([
      "## Findings",
      "## What each does",
      "## What each takes to build",
      "## With priming",
      "## More machines",
      "## The layouts",
      "## Assumptions",
      "## Cautions",
    ]);
    expect(report).not.toContain("<b>");
    const tables = report.split("\n\n").filter((block) => block.startsWith("|"));
    expect(tables).toHaveLength(5);
    for (const table of tables) {
      expect(new Set(table.split("\n").map((line) => line.split(/(?<!\\)\|/).length)).size).toBe(1);
    }
    expect(report).toContain("| tree |  | – | – | – | – | – | – | – | – | – | cannot be built |");
    expect(report).toContain("| loop | 31 | loop | 1 belt | 1 belt | 0 | – |");
  });

  test("each layout with its drawing and its files, as far as there are any", () => {
    const sections = layoutsMarkdown(study, [], files).split("### ");
    const section = (id: string): string => sections.find((text) => text.startsWith(`${id}\n`)) ?? "";
    expect(section("loop")).toContain(
      "![Drawing of loop: a loop of dividers of two and three ways, with 2 of 32 parts returned](loop.png)",
    );
    expect(section("loop")).toContain("Its [scenario](loop.yaml) and [drawing as SVG](loop.svg).");
    expect(section("loop")).toContain("It takes 21 dividers, 1 merge and 54 belts on 398.4 m² of floor.");
    expect(section("chain")).toContain("Its [scenario](chain.yaml).");
    expect(section("chain")).not.toContain("![");
    expect(section("chain")).toContain("It is not drawn: a drawing shows at most 150 machines.");
    expect(section("loop")).not.toContain("It is not drawn");
    expect(section("tree")).toContain("It cannot be built: dividers of two and three ways cannot make 30 parts");
    expect(section("tree")).not.toContain("](");
  });

  test("where none can be built it says so and has cautions all the same", () => {
    const report = layoutsMarkdown(nothing, [], { files: new Set(), undrawn: new Map() });
    expect(report).toContain("None is recommended");
    expect(report).not.toContain("## With priming");
    expect(report).toContain("no installation plan");
    expect(report).not.toContain("Hands go into the line with");
    expect(layoutsMarkdown(study, [], files)).toContain("Hands go into the line with stocked.");
  });
});

describe("files", () => {
  test("without charts: report, table, study and a scenario each that says where it comes from", async () => {
    const files = await layoutsFiles(sample, { charts: false });
    expect([...files.keys()].toSorted()).toEqual([
      "chain-of-trees-of-6.yaml",
      "chain.yaml",
      "layouts.csv",
      "layouts.json",
      "loop.yaml",
      "report.md",
      "tree-of-6-chains.yaml",
    ]);
    expect(JSON.parse(String(files.get("layouts.json")))).toEqual({
      format: "fillfront-layouts",
      format_version: 1,
      ...layoutsTold(study),
    });
    expect(String(files.get("loop.yaml")).split("\n")).toEqual([
      "# Made by fillfront layouts from: Thirty capping heads on one line (invented)",
      "# The line main as loop: a loop of dividers of two and three ways, with 2 of 32 parts returned.",
      expect.stringMatching(/^# .*copy this file before changing it\.$/),
      "title: A line",
      "",
    ]);
  });

  test("a title of several lines stays in its comment", async () => {
    const files = await layoutsFiles(layoutsSample({ title: "a\nfeeds: {}\u2028b\u0085c" }), { charts: false });
    expect(String(files.get("loop.yaml")).split(/[\n\u2028\u0085]/)[0]).toBe(
      "# Made by fillfront layouts from: a feeds: {} b c",
    );
  });

  test("layouts.csv: a row each, empty cells for what is not known", async () => {
    const files = await layoutsFiles(sample, { charts: false });
    const [heading = "", ...rows] = String(files.get("layouts.csv")).trimEnd().split("\r\n");
    expect(rows).toHaveLength(5);
    const row = (id: string): Record<string, string> => {
      const cells = rows.find((one) => one.startsWith(`${id},`))?.match(/(?<=^|,)(?:"[^"]*"|[^,]*)/g) ?? [];
      return Object.fromEntries(heading.split(",").map((name, i) => [name, cells[i] ?? "missing"]));
    };
    expect(row("loop")).toMatchObject({
      settling_min: "0.6",
      merges: "1",
      one_more_torn_out_belts: "1",
      file: "loop.yaml",
    });
    expect(row("tree")).toMatchObject({
      feasible: "no",
      settling_min: "",
      one_more_added_belts: "",
      primed_by_hand: "",
    });
    expect(row("chain")).toMatchObject({ primed_tactic: "stocked", primed_by_hand: "yes", undominated: "yes" });
  });

  test("with charts: both pictures and each layout's drawing, in the report too", async () => {
    const files = await layoutsFiles(sample, { charts: true });
    for (const name of ["choice.png", "output.png", "loop.svg", "loop.png", "chain-of-trees-of-6.svg"]) {
      expect([...files.keys()]).toContain(name);
      expect(String(files.get("report.md"))).toContain(`](${name})`);
    }
    expect([...files.keys()]).not.toContain("tree.svg");
  });
});

describe("pictures", () => {
  function dataset(picture: Picture, label: string): PictureDataset {
    const found = picture.config.data.datasets.find((set) => set.label === label);
    if (found === undefined) throw new Error(`no data set ${label}`);
    return found;
  }

  test("PNGs of their size with the recommended one below the title, the same bytes each time", async () => {
    const pictures = layoutsPictures(study, curves);
    expect(pictures.map(({ file }) => file)).toEqual(["choice.png", "output.png"]);
    for (const picture of pictures) {
      expect(picture.finding).toMatch(/^Recommended for a short ramp-up: loop, .*36 s.*398\.4 m²\.$/);
      const png = Buffer.from(await paint(picture));
      expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([picture.width, picture.height]);
      expect(png.length).toBeGreaterThan(20_000);
      expect(png.equals(await paint(picture))).toBe(true);
    }
  });

  test("choice: settling time over floor, and steps down to the shortest on so much floor", () => {
    const picture = layoutsChoicePicture(study);
    expect(dataset(picture, "not beaten").data).toEqual([
      { x: 312, y: 24.6 },
      { x: 398.4, y: 0.6 },
      { x: 330, y: 6.1 },
    ]);
    expect(dataset(picture, "beaten").data).toEqual([{ x: 420, y: 27.2 }]);
    expect(dataset(picture, "best").data.map(({ y }) => y)).toEqual([24.6, 24.6, 6.1, 6.1, 0.6, 0.6]);
    const { min, max } = JSON.parse(JSON.stringify(picture.config.options?.scales?.x));
    expect(min).toBeGreaterThan(200);
    expect(min).toBeLessThan(312);
    expect(max).toBeGreaterThan(420);
    expect((picture.config.plugins ?? []).map(({ id }) => id)).toEqual(["pointLabels", "key"]);
  });

  test("choice: today's line has room however slow, and neither it nor what is possible if is called beaten", () => {
    const [loop] = study.layouts.filter(({ id }) => id === "loop");
    if (loop === undefined) throw new Error("the sample has a loop");
    const beside = { ...loop, undominated: false, beaten_by: null };
    const layouts: LayoutResult[] = [
      ...study.layouts,
      { ...beside, id: "today", assuming: { what: "stated-lengths" }, settling_min: 90 },
      { ...beside, id: "tree-if", assuming: { what: "one-more", of: "machine" }, settling_min: 0.1, floor_m2: 300 },
    ];
    const picture = layoutsChoicePicture({ ...study, layouts, today: "today" });
    expect(dataset(picture, "as it stands today").data).toEqual([{ x: 398.4, y: 90 }]);
    expect(dataset(picture, "possible if (not weighed)").data).toEqual([{ x: 300, y: 0.1 }]);
    expect(dataset(picture, "beaten").data).toHaveLength(1);
    expect(dataset(picture, "best").data.map(({ y }) => y)).not.toContain(0.1);
    expect(picture.finding).not.toContain("Beyond the picture");
    const output = layoutsOutputPicture({ ...study, layouts, today: "today" }, [
      ...curves,
      ...curves.slice(0, 2).map((one, i) => ({ ...one, id: ["today", "tree-if"][i] ?? "" })),
    ]);
    const styles = output.config.data.datasets.map(({ label, borderColor, borderDash }) =>
      [label, borderColor, String(borderDash)].join(" "),
    );
    expect(styles.find((style) => style.startsWith("today"))).toBe("today #1a1a1a ");
    expect(new Set(styles.map((style) => style.split(" ").slice(1).join(" "))).size).toBe(styles.length);
  });

  test("choice: from no floor on where layouts differ much; what is far beyond or does not settle is told", () => {
    const wide = layoutsChoicePicture(changed("chain", { floor_m2: 90 }));
    expect(JSON.parse(JSON.stringify(wide.config.options?.scales?.x)).min).toBe(0);
    const far = layoutsChoicePicture(changed("chain-of-trees-of-6", { settling_min: 100 }));
    expect(dataset(far, "beaten").data).toEqual([]);
    expect(far.finding).toContain("Beyond the picture: chain-of-trees-of-6 (1 h 40 min).");
    const never = layoutsChoicePicture(changed("chain", { settling_min: null }));
    expect(never.finding).toContain("Not settled yet within 2 h: chain.");
  });

  test("output: those not beaten on top, the beaten one thin, the common level with its band", () => {
    const picture = layoutsOutputPicture(study, curves);
    const lines = picture.config.data.datasets.slice(0, 4);
    expect(lines.map(({ label, borderWidth }) => [label, borderWidth])).toEqual([
      ["chain", 3.5],
      ["loop", 3.5],
      ["tree-of-6-chains", 3.5],
      ["chain-of-trees-of-6", 1.75],
    ]);
    expect(new Set(lines.map(({ borderColor }) => borderColor)).size).toBe(4);
    expect(dataset(picture, "settled").data.map(({ y }) => y)).toEqual([360, 360]);
    const apart = layoutsOutputPicture(changed("chain", { settled_per_min: 300 }), curves);
    expect(apart.config.data.datasets.map(({ label }) => label)).not.toContain("settled");
  });

  test("nothing that can be built, no curves: still pictures", async () => {
    for (const picture of layoutsPictures(nothing, [])) {
      expect(picture.finding).toContain("None is recommended");
      expect((await paint(picture)).length).toBeGreaterThan(5_000);
    }
  });
});
