/** What a plant's size comes to, in sentences. */
import type { ItemRate, PlantSize } from "../../study/size/size-results.ts";
import { exactRateOrDash } from "../text/cells.ts";
import { approximately, duration, listed, percent, rate } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";

export interface SizeFinding {
  readonly code: "counts" | "choice" | "run" | "too-small" | "returns" | "slowed" | "chance";
  readonly text: string;
  readonly isBad: boolean;
}

export function sizeFindings(size: PlantSize): SizeFinding[] {
  const said = (code: SizeFinding["code"], text: string, isBad = false): SizeFinding => ({ code, text, isBad });
  const machines = size.machines.reduce((all, { count }) => all + count, 0);
  const busiest = size.machines.toSorted((a, b) => approximately(b.busy) - approximately(a.busy))[0];
  const most =
    busiest === undefined ? "" : `; ${busiest.group} is the busiest, ${percent(approximately(busiest.busy))}`;
  const counts = machines === 1 ? "1 machine" : `${machines} machines`;
  return [
    said("counts", `For ${wantedText(size.wanted)} the plant needs ${counts}${most}.`),
    ...choices(size).map((text) => said("choice", text)),
    ...tooSmall(size).map((text) => said("too-small", text, true)),
    ...size.returns.map(({ item, feed, per_min }) =>
      said(
        "returns",
        `${item} comes back from machines further on, ${exactRateOrDash(per_min)}/min; lines lead onward, so that in the file the feed ${feed} stands for the way back, and what it stands for leaves.`,
      ),
    ),
    ...(size.slowed.length === 0
      ? []
      : [
          said(
            "slowed",
            `${listed([...size.slowed])} run${size.slowed.length === 1 ? "s" : ""} at the speed to fit: at full speed they would take what others need.`,
          ),
        ]),
    ...(size.under_chance === null
      ? [said("run", runText(size), !size.run.reached)]
      : [said("chance", chanceText(size), !size.run.reached)]),
  ];
}

function wantedText(wanted: readonly ItemRate[]): string {
  return listed(wanted.map(({ item, per_min }) => `${oneLine(item)} ${rate(approximately(per_min))}`));
}

function choices({ choices: kinds, machines, fewest_proved: proved }: PlantSize): string[] {
  return kinds.map(({ item, groups }) => {
    const counts = groups.map((id) => `${machines.find(({ group }) => group === id)?.count ?? 0} ${id}`);
    const fewest = proved ? "these are the fewest machines that do" : "whether fewer would do was not settled";
    return `${item} is made by ${listed([...groups])}: ${counts.join(" and ")}; ${fewest}.`;
  });
}

function tooSmall({ machines, feeds, belts, wanted, enough_for: all }: PlantSize): string[] {
  const enough = (share: string): string => `enough for ${shareText(share, wanted)}`;
  const lines = [
    ...machines.flatMap(({ group, stated_count: stated, count, enough_for: share }) =>
      share === null ? [] : [`${group}: ${stated} stated, ${count} needed; ${stated} are ${enough(share)}`],
    ),
    ...feeds.flatMap(({ feed, stated_per_min: stated, rate_per_min: needed, enough_for: share }) =>
      share === null
        ? []
        : [`${feed}: ${exactRateOrDash(stated)}/min stated, ${exactRateOrDash(needed)}/min needed; ${enough(share)}`],
    ),
    ...belts.flatMap(({ id, stated_per_min: stated, needs_per_min: needed, enough_for: share }) =>
      share === null
        ? []
        : [
            `${id} carries ${exactRateOrDash(stated)}/min and must carry ${exactRateOrDash(needed)}/min; ${enough(share)}`,
          ],
    ),
  ];
  const together = all !== null && lines.length > 1 ? [`All that is stated together is ${enough(all)}.`] : [];
  return [...lines.map((line) => `Too small: ${line}. The file written has what is needed.`), ...together];
}

function shareText(share: string, wanted: readonly ItemRate[]): string {
  const [only, ...others] = wanted;
  if (only === undefined || others.length > 0) return `${percent(approximately(share))} of what is wanted`;
  return `${rate(approximately(share) * approximately(only.per_min))} of ${oneLine(only.item)}`;
}

function runText({ run, wanted }: PlantSize): string {
  const made = run.settled.map(({ item, per_min }) => {
    const figure = typeof per_min === "number" ? per_min : approximately(per_min);
    return `${oneLine(item)} ${rate(figure)}`;
  });
  const from = run.settling_min === null ? "" : `, all of it from ${duration(run.settling_min)}`;
  const how = run.proved ? "this is proved" : "not proved within the horizon";
  if (run.reached) return `Run as written, it settles at ${listed(made)}${from}; ${how}.`;
  return `Run as written, it settles at ${listed(made)}, which is less than the wanted ${wantedText(wanted)}.`;
}

function chanceText({ under_chance: chance, wanted }: PlantSize): string {
  if (chance === null) return "";
  const made = chance.settled.map(({ item, mean, ci95 }) => {
    const interval = ci95 === null ? "" : ` (95 %: ${rate(ci95[0])} to ${rate(ci95[1])})`;
    return `${oneLine(item)} ${rate(mean)}${interval}`;
  });
  const added = chance.added.map(({ group, count }) => `${count} ${group}`);
  const more = added.length === 0 ? "no machine more than without chance" : `${listed(added)} more than without chance`;
  const runs = `In ${chance.replications} runs it makes ${listed(made)}, with ${more}`;
  return chance.reached
    ? `${runs}.`
    : `${runs}: less than the wanted ${wantedText(wanted)}, and more machines don't help.`;
}
