/** What cannot be simulated is told as it was asked for. */
import { expect, test } from "vitest";
import { unplayableText } from "../../src/report/text/unplayable-text.ts";
import type { PlayedLine } from "../../src/study/play.ts";

test.each<[PlayedLine, string]>([
  [{ as: "tactic", id: "boosted" }, "the tactic boosted cannot be simulated"],
  [{ as: "it-is" }, "the line as it is cannot be simulated"],
  [{ as: "short-fed", level: "1/8" }, "the line on 12.5 % of the feed cannot be simulated"],
  [{ as: "with-dip", level: "1/3" }, "the line with a dip to 100/3 % of the feed cannot be simulated"],
  [{ as: "with-dip", level: null }, "the line with a dip cannot be simulated"],
  [{ as: "without-dip" }, "the line without the dip cannot be simulated"],
])("%j: %s", (played, text) => {
  expect(unplayableText(played)).toBe(text);
});
