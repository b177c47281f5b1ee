/** report.html: one file that opens from disk, without a network, with the engine inside. */
import parts from "#page-parts";
import type { Result } from "../../analysis/result.ts";
import type { PageSource } from "../answer/printed.ts";
import { duration } from "../text/figures.ts";
import { CAUTIONS } from "../text/notes.ts";
import { dataText, type Element, escaped, h, html, named } from "./markup.ts";
import { sheet } from "./sheet.ts";
import { ABOUT_PARTS, type Choice, filmParts } from "./skeleton.ts";

export function runPage(result: Result, source: PageSource): string {
  const head = `Horizon ${duration(result.horizon_min)}, tick ${result.tick_s} s, seed ${result.seed}.`;
  return pageOf({ title: result.title, head, told: sheet(result), source, choice: null, cautions: CAUTIONS });
}

interface Told {
  readonly title: string;
  readonly head: string;
  readonly told: readonly Element[];
  readonly source: PageSource;
  /** `null` for a run. */
  readonly choice: Choice | null;
  readonly cautions: readonly string[];
}

export function pageOf({ title, head, told, source, choice, cautions }: Told): string {
  const { text, file } = source;
  const { beside = "", variants = [], chosen = null } = choice ?? {};
  const given = { text, source: { file }, isStudy: choice !== null, beside, variants, chosen };
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
      `How the buffers fill, machine by machine${choice === null ? "" : `: ${beside.toLowerCase()}`}`,
    ),
    h("div", { id: "sheet-picture" }),
  );
  const foot = h("footer", {}, h("h2", {}, "Cautions"), h("ul", {}, ...cautions.map((one) => h("li", {}, one))));
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
${html(h("main", {}, ...filmParts(choice), ...ABOUT_PARTS))}
${html(foot)}
<noscript><p>The rest of this page needs scripts, which are all within this file.</p></noscript>
<script type="application/json" id="given">${dataText(given)}</script>
<script type="text/plain" id="engine">${parts.engine}</script>
<script>${parts.script}</script>
</body>
</html>
`;
}
