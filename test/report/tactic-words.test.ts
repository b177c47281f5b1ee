import { expect, test } from "vitest";
import { rational } from "../../src/quantity/rational.ts";
import { tacticText } from "../../src/report/text/tactic-words.ts";
import type { Tactic } from "../../src/scenario/tactic.ts";
import { NO_TACTIC } from "../../src/study/play.ts";

test.each<[string, Partial<Tactic>]>([
  [
    "every machine held off until its own buffer is full, and from then for 30 s more for each machine before it, counted from the tail",
    { hold: { until: "own-full", release: "tail-first", everyMin: rational("1/2") } },
  ],
  [
    "every machine held off until all buffers are full, then started from the head every 30 s",
    { hold: { until: "all-full", release: "head-first", everyMin: rational("1/2") } },
  ],
  [
    "even dividers serve the through belt first until the last buffer is full, ordered ones stay as they are",
    { farEndFirst: { until: "tail-full" } },
  ],
  [
    "30 % of the feed joins the belt that leads to m-3 (to its divider, where it has one) for 2 min",
    { secondFeed: { share: rational("3/10"), at: "m-3", forMin: rational("2") } },
  ],
])("%s", (text, parts) => expect(tacticText({ ...NO_TACTIC, ...parts })).toBe(text));
