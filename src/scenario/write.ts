/** A scenario as the text of a file; reading it gives the same scenario again, but for the lengths of belts. */
import { Document, isMap, visit } from "yaml";
import { formatDuration, formatPercentage, formatRate } from "../quantity/units.ts";
import type { BeltOrNone, Feed, ItemCount, Line, MachineGroup, Scenario } from "./scenario.ts";
import { tacticBody } from "./write-tactic.ts";

export function writeScenario(scenario: Scenario): string {
  const document = new Document(
    {
      title: scenario.title,
      horizon: formatDuration(scenario.horizonMin),
      tick: scenario.tickS === "auto" ? "auto" : formatDuration(scenario.tickS.div(60n)),
      seed: scenario.seed,
      feeds: byId(scenario.feeds, feedBody),
      machines: byId(scenario.machines, machineBody),
      lines: byId(scenario.lines, lineBody),
      ...(scenario.outlets.length > 0 ? { outlets: byId(scenario.outlets, ({ item }) => ({ item })) } : {}),
      ...(scenario.tactics.length > 0 ? { tactics: byId(scenario.tactics, tacticBody) } : {}),
    },
    { version: "1.2" },
  );
  flowInnermostMaps(document);
  return document.toString({ lineWidth: 0 });
}

/** A map, not an object: an object would move names that are numbers to the front. */
function byId<T extends { readonly id: string }>(list: readonly T[], body: (one: T) => unknown): Map<string, unknown> {
  return new Map(list.map((one) => [one.id, body(one)]));
}

function feedBody({ items, profile }: Feed) {
  const item = items[0]?.item;
  const [first, ...later] = profile;
  if (first && later.length === 0) return { item, rate: formatRate(first.ratePerMin) };
  return {
    item,
    profile: profile.map(({ fromMin, ratePerMin }) => ({
      from: formatDuration(fromMin),
      rate: formatRate(ratePerMin),
    })),
  };
}

function machineBody({ id, members, cycleMin, takes, makes, infeed, outfeed, speeds }: MachineGroup) {
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
  };
}

function counts(list: readonly ItemCount[]): Map<string, number> {
  return new Map(list.map(({ item, count }) => [item, count]));
}

function lineBody(line: Line) {
  switch (line.layout) {
    case "chain":
      return {
        layout: line.layout,
        from: line.from,
        to: line.to,
        belt: beltBody(line.belt) ?? "none",
        branch: beltBody(line.branch) ?? "none",
        dividers: line.dividers,
        end: line.end.kind,
      };
    case "custom":
      return {
        layout: line.layout,
        dividers: byId(line.dividers, ({ rule }) => rule),
        merges: byId(line.merges, ({ rule }) => rule),
        belts: byId(line.belts, ({ from, to, only, belt }) => ({
          from,
          to,
          ...(beltBody(belt) ?? { belt: "none" }),
          ...(only ? { only } : {}),
        })),
      };
  }
}

/** In the form that fits every belt. */
function beltBody(belt: BeltOrNone) {
  if (belt === null) return null;
  const { ratePerMin, capacity, transitMin } = belt;
  return { rate: formatRate(ratePerMin), capacity, transit: formatDuration(transitMin) };
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
