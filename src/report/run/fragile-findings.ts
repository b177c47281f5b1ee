/** What hangs on a tie, so that a small change to the plant, or none at all, may turn it. */
import type { FragileShare, HangsOnTick } from "../../analysis/fragile-results.ts";
import type { Result } from "../../analysis/result.ts";
import { approximately, duration, listed, listedShort, number, rate } from "../text/figures.ts";
import type { Finding } from "../text/finding.ts";
import { oneLine } from "../text/text-width.ts";

const ON: Readonly<Record<FragileShare["hangs_on"], string>> = {
  order: "it turns with the order within the mix",
  room: "one place more or less in every buffer turns it",
  tick: "it hangs on moments less than a tick apart",
};

export function fragileFindings({ fragile_shares: shares = [], hangs_on_tick: onTick }: Result): Finding[] {
  const told = (["order", "room", "tick"] as const).flatMap((on): string[] => {
    const own = shares.filter(({ hangs_on }) => hangs_on === on);
    if (own.length === 0) return [];
    const after = on === "tick" && onTick !== undefined ? `${withIt(onTick)}. None of this is exact` : "";
    return [`How what is too little is shared is fragile: ${ON[on]}, ${listedShort(own.map(shareText))}${after}.`];
  });
  if (onTick?.ticks_s.length === 0) {
    told.push(
      "How the machines share it may hang on the tick, and a finer one would take long: their rates are measured.",
    );
  }
  return told.map((text): Finding => ({ code: "fragile", text }));
}

function shareText({ machine, settled_per_min: now, turned_per_min: then }: FragileShare): string {
  const turned = typeof then === "number" ? then : approximately(then);
  return `${oneLine(machine)} ${rate(approximately(now))} or ${rate(turned)}`;
}

/** What turns with the split. */
function withIt({ hold_up_settled: [least, most], dwell_mean_min: dwell, limits }: HangsOnTick): string {
  const [low, high] = [number(least), number(most)];
  const parts = [
    ...(low === high ? [] : [`a settled hold-up of ${low} to ${high}`]),
    ...(dwell === null || duration(dwell[0]) === duration(dwell[1])
      ? []
      : [`a mean dwell of ${duration(dwell[0])} to ${duration(dwell[1])}`]),
    ...limits.map(({ what, place, item }) => {
      const of = [item, place].flatMap((name) => (name === null ? [] : oneLine(name)));
      return `whether the limit on ${what}${of.length === 0 ? "" : ` (${of.join(", ")})`} is kept`;
    }),
  ];
  return parts.length === 0 ? "" : `; with it ${listed(parts)}`;
}
