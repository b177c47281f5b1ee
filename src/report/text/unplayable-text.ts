/** What of a study cannot be simulated, in words. */
import { rational } from "../../quantity/rational.ts";
import { formatPercentage } from "../../quantity/units.ts";
import type { PlayedLine } from "../../study/play.ts";

/** Without a full stop. */
export function unplayableText(played: PlayedLine): string {
  return `${lineText(played)} cannot be simulated`;
}

function lineText(played: PlayedLine): string {
  switch (played.as) {
    case "tactic":
      return `the tactic ${played.id}`;
    case "it-is":
      return "the line as it is";
    case "without-dip":
      return "the line without the dip";
    case "short-fed":
      return `the line on ${shareText(played.level)}`;
    case "with-dip":
      return `the line with a dip${played.level === null ? "" : ` to ${shareText(played.level)}`}`;
  }
}

function shareText(level: string): string {
  return `${formatPercentage(rational(level))} of the feed`;
}
