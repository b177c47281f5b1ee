/** A scenario as the text of a file; reading it gives the same scenario again. */
import { Document, isMap, visit } from "yaml";
import type { Rational } from "../quantity/rational.ts";
import { formatDuration, formatLength, formatPercentage, formatRate, type LengthUnit } from "../quantity/units.ts";
import { costsKey } from "./costs.ts";
import { DEFAULT_FLOOR, isSameFootprint } from "./floor.ts";
import { byId } from "./line-parts.ts";
import { lineBody } from "./lines.ts";
import { meansKey } from "./means.ts";
import type { Feed, Floor, Footprint, ItemCount, Limits, MachineGroup, Scenario } from "./scenario.ts";
import { tacticBody } from "./tactic.ts";
import { randomKey } from "./write-random.ts";

export function writeScenario(scenario: Scenario): string {
  const { holdUp, dwell } = scenario.limits;
  const groupOf = new Map(scenario.machines.flatMap((group) => [group.id, ...group.members].map((id) => [id, group])));
  const document = new Document(
    {
      title: scenario.title,
      horizon: scenario.horizonIsAuto ? "auto" : formatDuration(scenario.horizonMin),
      tick: scenario.tickS === "auto" ? "auto" : formatDuration(scenario.tickS.div(60n)),
      seed: scenario.seed,
      feeds: byId(scenario.feeds, feedBody),
      machines: byId(scenario.machines, (group) => machineBody(group, scenario)),
      lines: byId(scenario.lines, (line) => lineBody(line, { groupOf, unit: scenario.lengthUnit })),
      ...(scenario.outlets.length > 0 ? { outlets: byId(scenario.outlets, ({ item }) => ({ item })) } : {}),
      ...(holdUp.length + dwell.length > 0 ? { limits: limitsBody(scenario.limits) } : {}),
      ...floorKey(scenario.floor, scenario.lengthUnit),
      ...randomKey(scenario.random),
      ...(scenario.wanted.length > 0 ? { wanted: wantedBody(scenario.wanted) } : {}),
      ...meansKey(scenario.means),
      ...costsKey(scenario.costs),
      ...(scenario.tactics.length > 0 ? { tactics: byId(scenario.tactics, tacticBody) } : {}),
    },
    { version: "1.2" },
  );
  flowInnermostMaps(document);
  return document.toString({ lineWidth: 0 });
}

function wantedBody(wanted: Scenario["wanted"]): Map<string, string> {
  return new Map(wanted.map(({ item, perMin }) => [item, formatRate(perMin)]));
}

function needText(share: Rational): string {
  return share.equals(1) ? "as needed" : `${formatPercentage(share)} of need`;
}

function feedBody({ items, order, profile, ofNeed, batch, surge }: Feed) {
  const [only, ...others] = items;
  const isOne = only !== undefined && others.length === 0;
  return {
    ...(isOne ? { item: only.item } : { items: counts(items), order }),
    ...(ofNeed === null ? supplyBody(profile, batch) : { rate: needText(ofNeed) }),
    ...(surge === null ? {} : { surge }),
  };
}

function supplyBody(profile: Feed["profile"], batch: Feed["batch"]) {
  const [first, ...later] = profile;
  if (first && batch) {
    const { everyMin, items, firstMin } = batch;
    const rate = formatRate(first.ratePerMin);
    return { batch: { every: formatDuration(everyMin), items, rate, first: formatDuration(firstMin) } };
  }
  if (first && later.length === 0) return { rate: formatRate(first.ratePerMin) };
  return {
    profile: profile.map(({ fromMin, ratePerMin }) => ({
      from: formatDuration(fromMin),
      rate: formatRate(ratePerMin),
    })),
  };
}

function machineBody(
  { id, members, cycleMin, takes, makes, infeed, outfeed, speeds, footprint }: MachineGroup,
  { floor, lengthUnit }: Pick<Scenario, "floor" | "lengthUnit">,
) {
  const isNumbered = members.length !== 1 || members[0] !== id;
  const [first] = speeds;
  const isUniform = speeds.every((speed) => first?.equals(speed));
  return {
    ...(isNumbered ? { count: members.length } : {}),
    cycle: formatDuration(cycleMin),
    takes: counts(takes),
    makes: counts(makes),
    infeed: counts(infeed),
    outfeed: counts(outfeed),
    speed: isUniform && first ? formatPercentage(first) : speeds.map(formatPercentage),
    ...(isSameFootprint(footprint, floor.machine) ? {} : { footprint: footprintBody(footprint, lengthUnit) }),
  };
}

function counts(list: readonly ItemCount[]): Map<string, number> {
  return new Map(list.map(({ item, count }) => [item, count]));
}

function limitsBody({ holdUp, dwell }: Limits) {
  const [first] = dwell;
  const places = [...new Set(holdUp.map(({ place }) => place))].filter((place) => place !== null);
  const most = (at: string | null) =>
    new Map(holdUp.filter(({ place }) => place === at).map((limit) => [limit.item, limit.most]));
  return {
    ...(holdUp.some(({ place }) => place === null) ? { "hold-up": most(null) } : {}),
    ...(places.length > 0 ? { at: new Map(places.map((place) => [place, most(place)])) } : {}),
    ...(first ? { dwell: first.item === null ? formatDuration(first.limitMin) : byItem(dwell) } : {}),
  };
}

function byItem(dwell: Limits["dwell"]): Map<string, string> {
  return new Map(dwell.map(({ item, limitMin }) => [item ?? "", formatDuration(limitMin)]));
}

/** Only what differs from what a file without it has. */
function floorKey({ machine, divider, merge, beltM, aisleM, lengths }: Floor, unit: LengthUnit) {
  const differing = (key: string, footprint: Footprint, otherwise: Footprint) =>
    isSameFootprint(footprint, otherwise) ? {} : { [key]: footprintBody(footprint, unit) };
  const body = {
    ...differing("machine", machine, DEFAULT_FLOOR.machine),
    ...differing("divider", divider, DEFAULT_FLOOR.divider),
    ...differing("merge", merge, DEFAULT_FLOOR.merge),
    ...(beltM.equals(DEFAULT_FLOOR.beltM) ? {} : { belt: formatLength(beltM, unit) }),
    ...(aisleM.equals(DEFAULT_FLOOR.aisleM) ? {} : { aisle: formatLength(aisleM, unit) }),
    ...(lengths === DEFAULT_FLOOR.lengths ? {} : { lengths }),
  };
  return Object.keys(body).length > 0 ? { floor: body } : {};
}

function footprintBody({ lengthM, widthM }: Footprint, unit: LengthUnit) {
  return { length: formatLength(lengthM, unit), width: formatLength(widthM, unit) };
}

/** Maps without maps in them stand on one line, as people write them. */
function flowInnermostMaps(document: Document): void {
  visit(document, {
    Map(key, map) {
      const isInnermost = key !== null && map.items.every(({ value }) => !isMap(value));
      if (isInnermost && map !== document.contents) map.flow = true;
    },
  });
}
