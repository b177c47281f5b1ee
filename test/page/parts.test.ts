/** What every page carries: small enough, allowed by its hashes alone, and text that stays text. */
import { createHash } from "node:crypto";
import { gunzipSync, gzipSync } from "node:zlib";
import fc from "fast-check";
import { expect, test } from "vitest";
import parts from "#page-parts";
import { dataText, h, html } from "../../src/report/page/markup.ts";

test("all script together has at most 500 kB, 180 kB compressed", () => {
  const engine = gunzipSync(Buffer.from(parts.engine, "base64"));
  expect(parts.script.length + engine.length).toBeLessThanOrEqual(500_000);
  expect(gzipSync(parts.script, { level: 9 }).length + Buffer.from(parts.engine, "base64").length).toBeLessThanOrEqual(
    180_000,
  );
});

test("the policy's hashes are of what is there, and nothing in it ends its element", () => {
  const hash = (text: string): string => `sha256-${createHash("sha256").update(text).digest("base64")}`;
  expect(parts.scriptHash).toBe(hash(parts.script));
  expect(parts.styleHash).toBe(hash(parts.style));
  expect(parts.script + parts.style).not.toMatch(/<\/(?:script|style)|<!--/i);
  expect(parts.script).not.toMatch(/innerHTML|outerHTML|insertAdjacentHTML|document\.write|\beval\(/);
});

test("whatever a name holds, it is text", () => {
  fc.assert(
    fc.property(fc.oneof(fc.string(), fc.constantFrom("</script>", "<!--", `"'><b>`, "&lt;")), (text) => {
      expect(html(h("p", { title: text }, text)).replace(/^<p title="|<\/p>$/g, "")).not.toMatch(/<|"(?!>)/);
      expect(dataText({ text })).not.toContain("<");
      expect(JSON.parse(dataText({ text }))).toEqual({ text });
    }),
  );
});
