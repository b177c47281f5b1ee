import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { graphOf, sweepOf } from "../../src/network/graph.ts";
import type { Network } from "../../src/network/network.ts";
import { connection, network, steady } from "../analysis/flow-networks.ts";
import { belt, divider, feed, machine, merge } from "../engine/lines.ts";
import { randomNetwork } from "../engine/random-networks.ts";
import { plainFeed } from "../plain-feed.ts";

const sweep = (line: Network) => sweepOf(graphOf(line));

test("each element comes once, after all it feeds but across the cuts", () => {
  let loops = 0;
  fc.assert(
    fc.property(randomNetwork(), (line) => {
      const { order, cuts } = sweep(line);
      const { nodes } = graphOf(line);
      expect(order.toSorted()).toEqual(nodes.toSorted());
      const place = new Map(order.map((id, i) => [id, i]));
      const against = line.connections.filter(({ from, to }) => (place.get(to) ?? 0) >= (place.get(from) ?? 0));
      expect(against.toSorted(byId)).toEqual(cuts.toSorted(byId));
      if (cuts.length > 0) loops++;
    }),
    { numRuns: 300 },
  );
  expect(loops).toBeGreaterThan(20);
});

const byId = (a: { id: string }, b: { id: string }): number => (a.id < b.id ? -1 : 1);

test("ties fall in file order", () => {
  const line = network({
    feeds: [feed("z", "1"), feed("a", "1")],
    machines: [machine("y", "1"), machine("b", "1"), machine("x", "1")],
    connections: [connection("a", "x"), connection("z", "y"), connection("z", "b")],
  });
  expect(sweep(line).order).toEqual(["y", "b", "z", "x", "a"]);
});

describe("a return loop", () => {
  const line = network({
    feeds: [feed("feed", "60")],
    merges: [merge("join")],
    dividers: [divider("split")],
    machines: [machine("m", "1")],
    connections: [
      connection("split", "join", { id: "back", belt: belt("60") }),
      connection("feed", "join"),
      connection("join", "split", { belt: belt("60") }),
      connection("split", "m"),
    ],
  });

  test("is cut at its return belt", () => {
    const { order, cuts } = sweep(line);
    expect(cuts.map(({ id }) => id)).toEqual(["back"]);
    expect(order).toEqual(["m", "split", "join", "feed"]);
  });
});

test("a chain of 100,000 dividers is put in order without overflow", () => {
  const count = 100_000;
  const places = Array.from({ length: count }, (_, i) => i + 1);
  const line = network({
    feeds: [plainFeed("feed", "pouch", steady(belt("1").ratePerMin))],
    dividers: places.map((place) => divider(`d${place}`)),
    machines: [machine("m", "1")],
    connections: [
      connection("feed", "d1"),
      ...places.map((place) => connection(`d${place}`, place < count ? `d${place + 1}` : "m")),
    ],
  });
  const { order } = sweep(line);
  expect(order.slice(0, 3)).toEqual(["m", `d${count}`, `d${count - 1}`]);
  expect(order.at(-1)).toBe("feed");
});
