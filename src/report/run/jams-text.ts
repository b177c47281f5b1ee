/** What stands in the way for ever, and how far a mix is from that. */
import type { Jam, Mix, MixKind } from "../../analysis/plant-results.ts";
import type { Result } from "../../analysis/result.ts";
import { total } from "../../quantity/counts.ts";
import { approximately, below, duration, listed, listedShort, percent, rate } from "../text/figures.ts";
import type { Finding } from "../text/finding.ts";
import { oneLine } from "../text/text-width.ts";

export function jamsAndMixes(result: Result): Finding[] {
  const jams = result.jams ?? [];
  const hasStopped = (result.chance?.stopped ?? null) !== null;
  return [
    ...jams.map((jam): Finding => {
      const isFirst = jams.find(({ line }) => line === jam.line) === jam;
      return { code: "jam", text: jamText(jam, isFirst, result) };
    }),
    ...result.mixes
      .filter(({ jams }) => jams !== true)
      .map((mix): Finding => ({ code: "mix", text: mixText(mix, hasStopped) })),
  ];
}

/** @param isFirst of its line: how branches are shared need not be said again */
function jamText(jam: Jam, isFirst: boolean, result: Result): string {
  const item = oneLine(jam.item);
  const since = jam.since_min === null ? "" : `since ${duration(jam.since_min)} `;
  const stands = `Jam: ${since}${item} stands at the end of ${oneLine(jam.belt)}, and ${refusal(jam, result)}.`;
  const places = jam.also.length;
  const also = places === 0 ? "" : ` It stands likewise at the end of ${listedShort(jam.also.map(oneLine), 3)}.`;
  const mix = result.mixes.find(({ line }) => line === jam.line);
  return `${stands}${also}${behind(jam)}${mix === undefined ? "" : `${ofMix(mix, jam)}${isFirst ? shared(jam, mix, result) : ""}`}`;
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

/** Whether more of the kind comes than can be taken; if not, the dividers that bring it to where it stands. */
function ofMix({ kinds }: Mix, jam: Jam): string {
  const { item } = jam;
  const kind = kinds.find((one) => one.item === item);
  if (kind === undefined) return "";
  const [name, offered] = [oneLine(item), rate(approximately(kind.offered_per_min))];
  if (!fits(kind, kinds)) return ` ${offered} of ${name} come, ${takeable(kind)}.`;
  const how = jam.dividers.length === 0 ? "" : sendingOn(jam);
  const comes = kind.beside_per_min === null ? "" : ` (${offered} of ${name} come, ${takeable(kind)})`;
  const isOver = pressure(kind) > 1 ? ", though more comes than can be taken" : "";
  if (kinds.every((one) => fits(one, kinds))) return ` As a whole the mix fits${isOver}${comes}${how}.${help(jam)}`;
  return ` No more ${name} comes than can be taken${comes}${how}.${help(jam)}`;
}

function sendingOn({ dividers, is_full: isFull }: Jam): string {
  const who = dividers.map(({ divider }) => oneLine(divider));
  const one = who.length === 1;
  const turns = dividers.every(({ takes_turns: turn }) => turn) ? `, which ${one ? "takes" : "take"} turns,` : "";
  const does = isFull
    ? `${one ? "parts" : "part"} it unevenly among the machines`
    : `${one ? "sends" : "send"} some of it on past the last machine that takes it`;
  return `: ${listedShort(who, 3)}${turns} ${does}`;
}

/** Another rule of the dividers is of use only where they take turns. */
function help({ dividers }: Jam): string {
  const rule = dividers.some(({ takes_turns: turn }) => turn) ? "dividers that serve the branch first, " : "";
  return ` What may help: ${rule}another order of the feed, or a far end that takes what passes.`;
}

/** No more of it comes than can be taken, or the other kinds are held up as much. */
function fits(kind: MixKind, kinds: readonly MixKind[]): boolean {
  const own = pressure(kind);
  return own <= 1 || kinds.every((other) => !below(pressure(other), own));
}

function pressure({ offered_per_min: offered, beside_per_min: beside }: MixKind): number {
  const comes = approximately(offered);
  if (beside === null || comes === 0) return 0;
  return below(approximately(beside), comes) ? comes / approximately(beside) : 1;
}

function takeable({ takeable_per_min: alone, beside_per_min: beside }: MixKind): string {
  const most = `${rate(approximately(beside ?? "0"))} can be taken`;
  return alone === beside ? most : `${most} beside what comes of the other kinds`;
}

/** Where a machine takes several kinds from one belt, one of them keeps back the others. */
function shared({ is_full: isFull, at, belt }: Jam, { kinds }: Mix, { machines, belts }: Result): string {
  const taken = machines.find(({ id }) => id === at)?.infeed.map(({ item }) => item) ?? [];
  const along = kinds.filter(({ item }) => taken.includes(item)).map(({ item }) => oneLine(item));
  if (!isFull || along.length < 2 || !belts.some(({ id, to }) => id === belt && to === at)) return "";
  const [way, apart] = /\.branch-\d+$/.test(belt)
    ? [
        "in one branch",
        "no belt there (branch: none), or a branch for each kind (layout: custom, each with its only: [kind]),",
      ]
    : [
        "by one belt",
        "a belt for each kind (layout: custom, each belt with its only: [kind]), or a way on for what has no room,",
      ];
  return ` ${listed(along)} come to ${oneLine(at)} ${way}, where one keeps back the other: ${apart} would keep them apart.`;
}

function shareOf(kind: MixKind, kinds: readonly MixKind[], of: "offered_per_min" | "takeable_per_min"): number {
  const all = total(kinds.map((one) => approximately(one[of] ?? "0")));
  return all === 0 ? 0 : approximately(kind[of] ?? "0") / all;
}

function mixText(mix: Mix, hasStopped: boolean): string {
  const names = listed(mix.kinds.map(({ item }) => oneLine(item)));
  const subject = `Line ${oneLine(mix.line)} carries ${names}`;
  const seen =
    mix.jams !== null
      ? "does not jam with this mix"
      : hasStopped
        ? "had stopped at the end of this run"
        : "has not jammed within the horizon, which proves nothing";
  const only = " For another mix, run it again.";
  const kind = mix.kinds.find(({ item }) => item === mix.nearest);
  if (kind === undefined || mix.margin === null) {
    const why = mix.rule === "outlet" ? "each kind has an outlet to leave by" : "each could come alone at that rate";
    return `${subject} and ${seen}: ${why}.`;
  }
  const margin = marginText(mix, kind);
  return `${subject} and ${seen}${hasStopped ? margin.replace(/^, but /, ": ") : margin}${only}`;
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
  const most = approximately(kind.takeable_per_min ?? "0");
  const offered = approximately(kind.offered_per_min);
  if (margin === "0") {
    return offered > most
      ? `, but ${item} holds it up: ${rate(offered)} are offered, ${rate(most)} can be taken.`
      : `, but with any more ${item} it would be held up.`;
  }
  const share = shareOf(kind, kinds, "offered_per_min");
  const raised = share * (1 + approximately(margin ?? "0"));
  return `; the share of ${item} may rise from ${percent(share)} to ${percent(raised)} before it holds up the line.`;
}
