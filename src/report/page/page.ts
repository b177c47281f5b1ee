/** report.html: one file that opens from disk, without a network, with the engine inside. */
import parts from "#page-parts";
import type { Result } from "../../analysis/result.ts";
import type { Comparison } from "../../study/comparison/results.ts";
import { duration } from "../text/figures.ts";
import { CAUTIONS, TACTIC_CAUTIONS } from "../text/notes.ts";
import { dataText, type Element, escaped, h, html, named } from "./markup.ts";
import { comparisonSheet, sheet } from "./sheet.ts";
import { ABOUT_PARTS, filmParts } from "./skeleton.ts";

/** The scenario that a report is of, as the page reads it again. */
export interface PageSource {
  readonly text: string;
  /** As messages name the file. */
  readonly file: string;
}

export function runPage(result: Result, source: PageSource): string {
  const head = `Horizon ${duration(result.horizon_min)}, tick ${result.tick_s} s, seed ${result.seed}.`;
  return pageOf({ title: result.title, head, told: sheet(result), source, comparison: null, cautions: CAUTIONS });
}

export function comparisonPage(comparison: Comparison, source: PageSource): string {
  const head = `Ways to start, within ${duration(comparison.horizon_min)}; times in minutes from the moment at which the feed could start.`;
  const told = comparisonSheet(comparison);
  const cautions = [...CAUTIONS, ...TACTIC_CAUTIONS];
  return pageOf({ title: comparison.title, head, told, source, comparison, cautions });
}

interface Told {
  readonly title: string;
  readonly head: string;
  readonly told: readonly Element[];
  readonly source: PageSource;
  readonly comparison: Comparison | null;
  readonly cautions: readonly string[];
}

function pageOf({ title, head, told, source, comparison, cautions }: Told): string {
  const { text, file } = source;
  const shownFirst = comparison?.winner ?? comparison?.tactics.find(({ id }) => id !== "none")?.id ?? null;
  const chosen = shownFirst === "none" ? null : shownFirst;
  const given = { text, source: { file }, chosen, isComparison: comparison !== null };
  const policy = [
    "default-src 'none'",
    `script-src '${parts.scriptHash}' 'wasm-unsafe-eval'`,
    `style-src '${parts.styleHash}'`,
    "worker-src blob:",
    "img-src data: blob:",
    "base-uri 'none'",
    "form-action 'none'",
  ].join("; ");
  const header = h(
    "header",
    {},
    h("h1", {}, named(title)),
    h("p", { class: "about" }, head),
    ...told,
    h(
      "h3",
      { id: "sheet-heading" },
      comparison === null ? "How the buffers fill, machine by machine" : "With nothing done",
    ),
    h("div", { id: "sheet-picture" }),
  );
  const foot = h("footer", {}, h("h2", {}, "Cautions"), h("ul", {}, ...cautions.map((one) => h("li", {}, one))));
  const starts = comparison === null ? null : comparison.tactics.map(({ id }) => id);
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${escaped(policy)}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(title)}</title>
<style>${parts.style}</style>
</head>
<body>
${html(header)}
${html(h("main", {}, ...filmParts(starts, chosen), ...ABOUT_PARTS))}
${html(foot)}
<noscript><p>The rest of this page needs scripts, which are all within this file.</p></noscript>
<script type="application/json" id="given">${dataText(given)}</script>
<script type="text/plain" id="engine">${parts.engine}</script>
<script>${parts.script}</script>
</body>
</html>
`;
}
