/**
 * Drafts: files that say what a plant is to make and of which kinds its machines are, and leave open how many there are, what
 * feeds give, which lines connect them or what belts carry. What is open gets a stand-in here, is read with all the checks of
 * the reader, and is filled in by who works out the size.
 */
import { approximate } from "../quantity/rational.ts";
import { parseQuantity } from "../quantity/units.ts";
import { childOf, keysAt, type MapNode, type Node } from "./document.ts";
import { type DraftKinds, drawnLines } from "./draft-lines.ts";
import { mapEntries, nodeOf, type Plain, textOf, withKey } from "./nodes.ts";

/** What a draft leaves open. */
export interface Open {
  /** Groups whose count is to be worked out. */
  readonly counts: ReadonlySet<string>;
  /** Groups that state no room before each machine. */
  readonly rooms: ReadonlySet<string>;
  /** Feeds that are to give what is needed, or so much of it, as in the file. */
  readonly feeds: ReadonlyMap<string, string>;
  /** Feeds of kinds that come back from machines further on, where lines must lead onward: they stand for the way back. */
  readonly returns: ReadonlyMap<string, string>;
  /** Lines whose belts are to carry what they must. */
  readonly belts: ReadonlySet<string>;
  /** Whether the lines are drawn up here, one for each kind of item. */
  readonly lines: boolean;
}

const AS_NEEDED = "as needed";

/** Carries anything, until it is known how much it must. */
const OPEN_BELT: Plain = { rate: "1000000/min", capacity: 1000, transit: "0 min" };

/** @param belt of lines that are drawn up here; open if left out */
export function completedDraft(root: Node, belt: Plain = OPEN_BELT): { readonly root: Node; readonly open: Open } {
  if (root.kind !== "map") {
    const none = { feeds: new Map(), returns: new Map(), belts: new Set<string>() };
    return { root, open: { ...none, counts: new Set(), rooms: new Set(), lines: false } };
  }
  const groups = keysAt(root, ["machines"]);
  const without = (key: string): ReadonlySet<string> =>
    new Set(groups.filter((id) => childOf(childOf(childOf(root, "machines"), id), key) === undefined));
  const feeds = new Map<string, string>();
  let complete = withSection(root, "machines", withInfeed);
  complete = withSection(complete, "feeds", (feed, id) => withRate(feed, id, feeds));
  const belts = new Set<string>();
  const isOpen = childOf(root, "lines") === undefined;
  const returns = new Map<string, string>();
  if (isOpen) {
    const drawn = drawnLines(kindsOf(root));
    const offset = root.offset;
    for (const [id, item] of drawn.feeds) {
      feeds.set(id, AS_NEEDED);
      complete = addTo(complete, "feeds", id, nodeOf({ item, rate: "1/min" }, offset));
    }
    for (const [id, item] of drawn.returns) {
      returns.set(id, item);
      complete = addTo(complete, "feeds", id, nodeOf({ item, rate: "1/min" }, offset));
    }
    for (const [id, item] of drawn.outlets) complete = addTo(complete, "outlets", id, nodeOf({ item }, offset));
    for (const [id, line] of drawn.lines) {
      if (belt === OPEN_BELT) belts.add(id);
      const body = { layout: "chain", ...line, belt };
      complete = addTo(complete, "lines", id, nodeOf(body, offset));
    }
  } else {
    complete = withSection(complete, "lines", (line, id) => {
      if (textOf(line, "layout") === "custom" || childOf(line, "belt") !== undefined) return line;
      belts.add(id);
      return withKey(line, "belt", nodeOf(OPEN_BELT, line.offset));
    });
  }
  return {
    root: complete,
    open: { counts: without("count"), rooms: without("infeed"), feeds, returns, belts, lines: isOpen },
  };
}

function withSection(root: MapNode, key: string, change: (map: MapNode, id: string) => MapNode): MapNode {
  const section = mapEntries(childOf(root, key), change);
  return section === undefined ? root : withKey(root, key, section);
}

function addTo(root: MapNode, key: string, id: string, node: Node): MapNode {
  const section = childOf(root, key);
  if (section !== undefined && section.kind !== "map") return root;
  return withKey(root, key, withKey(section ?? { ...root, entries: new Map() }, id, node));
}

/** Room for what two minutes at full speed take, and for two cycles; in tens, where that is no great matter. */
function withInfeed(machine: MapNode): MapNode {
  const takes = childOf(machine, "takes");
  if (childOf(machine, "infeed") !== undefined || takes?.kind !== "map") return machine;
  const cycle = parseQuantity("duration", textOf(machine, "cycle") ?? "");
  const cycles = cycle.ok && cycle.value.n > 0n ? Math.max(2, Math.ceil(approximate(cycle.value.inverse()) * 2)) : 2;
  const room: Record<string, number> = {};
  for (const [item, { node }] of takes.entries) {
    const count = node.kind === "scalar" && typeof node.value === "number" && node.value > 0 ? node.value : 1;
    room[item] = Math.min(1_000_000, inTens(cycles * count));
  }
  return withKey(machine, "infeed", nodeOf(room, machine.offset));
}

function inTens(count: number): number {
  return count < 20 ? count : 10 * Math.ceil(count / 10);
}

/** @param asked told of feeds that give what is needed */
function withRate(feed: MapNode, id: string, asked: Map<string, string>): MapNode {
  const stated = textOf(feed, "rate");
  const isOpen = !["rate", "profile", "batch"].some((key) => childOf(feed, key) !== undefined);
  if (!isOpen && (stated === undefined || !/need$/.test(stated))) return feed;
  asked.set(id, stated ?? AS_NEEDED);
  return withKey(feed, "rate", nodeOf("1/min", childOf(feed, "rate")?.offset ?? feed.offset));
}

function kindsOf(root: MapNode): DraftKinds {
  const keysOf = (node: Node | undefined): string[] => (node?.kind === "map" ? [...node.entries.keys()] : []);
  const section = (key: string) => childOf(root, key);
  return {
    machines: keysOf(section("machines")).map((id) => {
      const machine = childOf(section("machines"), id);
      return { id, takes: keysOf(childOf(machine, "takes")), makes: keysOf(childOf(machine, "makes")) };
    }),
    feeds: keysOf(section("feeds")).map((id) => {
      const feed = childOf(section("feeds"), id);
      const item = textOf(feed, "item");
      return { id, items: item === undefined ? keysOf(childOf(feed, "items")) : [item] };
    }),
    outlets: keysOf(section("outlets")).map((id) => ({
      id,
      item: textOf(childOf(section("outlets"), id), "item") ?? "",
    })),
    wanted: keysOf(section("wanted")),
  };
}
