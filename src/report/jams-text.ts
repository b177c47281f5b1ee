/** What stands in the way for ever, and how far a mix is from that. */
import type { Jam, Mix, MixKind } from "../analysis/plant-results.ts";
import type { Result } from "../analysis/result.ts";
import { total } from "../quantity/counts.ts";
import { approximately, duration, listed, listedShort, percent, rate } from "./figures.ts";
import type { Finding } from "./finding.ts";
import { oneLine } from "./text-width.ts";

export function jamsAndMixes(result: Result): Finding[] {
  return [
    ...(result.jams ?? []).map((jam): Finding => ({ code: "jam", text: jamText(jam, result) })),
    ...result.mixes.filter(({ jams }) => jams !== true).map((mix): Finding => ({ code: "mix", text: mixText(mix) })),
  ];
}

function jamText(jam: Jam, result: Result): string {
  const item = oneLine(jam.item);
  const since = jam.since_min === null ? "" : `since ${duration(jam.since_min)} `;
  const stands = `Jam: ${since}${item} stands at the end of ${oneLine(jam.belt)}, and ${refusal(jam, result)}.`;
  const places = jam.also.length;
  const also = places === 0 ? "" : ` It stands likewise at the end of ${listedShort(jam.also.map(oneLine), 3)}.`;
  const mix = result.mixes.find(({ line }) => line === jam.line);
  return `${stands}${also}${behind(jam)}${mix === undefined ? "" : offMix(mix, jam.item)}`;
}

function refusal({ at, item, is_full }: Jam, { machines }: Result): string {
  if (is_full) return `the ${oneLine(item)} buffer of ${oneLine(at)} there is full`;
  const isMachine = machines.some(({ id }) => id === at);
  return isMachine ? `${oneLine(at)} there takes no ${oneLine(item)}` : `${oneLine(at)} lets no ${oneLine(item)} on`;
}

function behind({ starved, blocked }: Jam): string {
  const byItem = new Map<string, string[]>();
  for (const { machine, item } of starved) byItem.set(item, [...(byItem.get(item) ?? []), oneLine(machine)]);
  const parts = [...byItem].map(([item, machines]) => `${listedShort(machines)} of ${oneLine(item)}`);
  const one = starved.length === 1;
  const starving = parts.length === 0 ? "" : ` Behind it ${one ? "starves" : "starve"} ${parts.join("; ")}.`;
  if (blocked.length === 0) return starving;
  const names = listedShort(blocked.map(oneLine));
  return `${starving} Blocked behind it ${blocked.length === 1 ? "is" : "are"} ${names}.`;
}

/** "The line is offered 40 % blue; of what its machines take 33.3 % is blue." */
function offMix({ kinds }: Mix, item: string): string {
  const kind = kinds.find((one) => one.item === item);
  if (kind === undefined || kinds.some((one) => one.takeable_per_min === null)) return "";
  const offered = percent(shareOf(kind, kinds, "offered_per_min"));
  const taken = percent(shareOf(kind, kinds, "takeable_per_min"));
  return offered === taken
    ? ""
    : ` Of what comes ${offered} is ${oneLine(item)}, of what the machines need at full speed ${taken}.`;
}

function shareOf(kind: MixKind, kinds: readonly MixKind[], of: "offered_per_min" | "takeable_per_min"): number {
  const all = total(kinds.map((one) => approximately(one[of] ?? "0")));
  return all === 0 ? 0 : approximately(kind[of] ?? "0") / all;
}

function mixText(mix: Mix): string {
  const names = listed(mix.kinds.map(({ item }) => oneLine(item)));
  const subject = `Line ${oneLine(mix.line)} carries ${names}`;
  const seen =
    mix.jams === null ? "has not jammed within the horizon, which proves nothing" : "does not jam with this mix";
  const only = " For another mix, run it again.";
  const kind = mix.kinds.find(({ item }) => item === mix.nearest);
  if (kind === undefined || mix.margin === null) {
    const why = mix.rule === "outlet" ? "each kind has an outlet to leave by" : "each could come alone at that rate";
    return `${subject} and ${seen}: ${why}.`;
  }
  return `${subject} and ${seen}${marginText(mix, kind)}${only}`;
}

function marginText({ kinds, margin, rule }: Mix, kind: MixKind): string {
  const item = oneLine(kind.item);
  if (rule === "dead-end") {
    return `, but there is no margin: ${item} can come past all who take it, and would stand there for ever.`;
  }
  if (rule === "proportion" && kinds.some((one) => one.takeable_per_min === null)) {
    return `; how much more ${item} it stands no rule tells, since machines take it together with other kinds.`;
  }
  if (rule === "proportion") {
    return ", but there is no margin: machines take kinds of it together, and whatever comes above that proportion fills the line at last.";
  }
  const takeable = approximately(kind.takeable_per_min ?? "0");
  const offered = approximately(kind.offered_per_min);
  if (margin === "0") {
    return offered > takeable
      ? `, but ${item} holds it up: ${rate(offered)} are offered, ${rate(takeable)} can be taken.`
      : `, but with any more ${item} it would be held up.`;
  }
  const share = shareOf(kind, kinds, "offered_per_min");
  const most = share * (1 + approximately(margin ?? "0"));
  return `; the share of ${item} may rise from ${percent(share)} to ${percent(most)} before it holds up the line.`;
}
