import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { exact, ratio, whole } from "../../src/quantity/rational.ts";
import { readScenario } from "../../src/scenario/read.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { CUSTOM_EXAMPLE, changed, EXAMPLE, plain } from "./example.ts";

function read(text: string, name?: string): Scenario {
  const outcome = readScenario(text, name === undefined ? {} : { name });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  return outcome.scenario;
}

test("the chain example", () => {
  const belt = { ratePerMin: whole(270), capacity: 38, transitMin: ratio(1n, 8n), lengthM: whole(3) };
  const branch = { ratePerMin: whole(270), capacity: 13, transitMin: ratio(1n, 24n), lengthM: whole(1) };
  expect(plain(read(EXAMPLE))).toEqual(
    plain({
      title: "Eight cartoners on one chained belt",
      horizonMin: whole(240),
      tickS: "auto",
      seed: "1",
      feeds: [{ id: "blender", item: "pouch", profile: [{ fromMin: whole(0), ratePerMin: whole(240) }] }],
      machines: [
        {
          id: "cartoner",
          members: [1, 2, 3, 4, 5, 6, 7, 8].map((n) => `cartoner-${n}`),
          cycleMin: ratio(1n, 30n),
          takes: [{ item: "pouch", count: 1 }],
          makes: [{ item: "carton", count: 1 }],
          infeed: [{ item: "pouch", count: 100 }],
          outfeed: [{ item: "carton", count: 20 }],
          speeds: Array.from({ length: 8 }, () => whole(1)),
        },
      ],
      lines: [
        {
          id: "main",
          layout: "chain",
          from: ["blender"],
          to: ["cartoner"],
          belt,
          branch,
          dividers: "even",
          end: "stop",
        },
      ],
      outlets: [{ id: "dispatch", item: "carton" }],
      tactics: [],
    }),
  );
});

test("the custom example", () => {
  const none = { only: null, belt: null };
  expect(plain(read(CUSTOM_EXAMPLE))).toEqual(
    plain({
      title: "Two fillers, one packer",
      horizonMin: whole(240),
      tickS: ratio(1n, 10n),
      seed: "0042",
      feeds: [
        {
          id: "silo",
          item: "can",
          profile: [
            { fromMin: whole(0), ratePerMin: whole(120) },
            { fromMin: whole(60), ratePerMin: whole(0) },
            { fromMin: whole(90), ratePerMin: ratio(45n, 4n) },
          ],
        },
      ],
      machines: [
        {
          id: "filler",
          members: ["filler-1", "filler-2"],
          cycleMin: ratio(1n, 60n),
          takes: [{ item: "can", count: 1 }],
          makes: [{ item: "filled", count: 1 }],
          infeed: [{ item: "can", count: 30 }],
          outfeed: [{ item: "filled", count: 5 }],
          speeds: [whole(1), ratio(3n, 4n)],
        },
        {
          id: "packer",
          members: ["packer"],
          cycleMin: ratio(1n, 10n),
          takes: [{ item: "filled", count: 6 }],
          makes: [{ item: "tray", count: 1 }],
          infeed: [{ item: "filled", count: 24 }],
          outfeed: [{ item: "tray", count: 2 }],
          speeds: [whole(1)],
        },
      ],
      lines: [
        {
          id: "main",
          layout: "custom",
          dividers: [{ id: "split", rule: "ordered" }],
          merges: [{ id: "join", rule: "even" }],
          belts: [
            {
              id: "in",
              from: "silo",
              to: "split",
              only: null,
              belt: { ratePerMin: whole(270), capacity: 37, transitMin: ratio(1n, 8n), lengthM: null },
            },
            { id: "a", from: "split", to: "filler-1", ...none },
            {
              id: "b",
              from: "split",
              to: "filler-2",
              only: ["can"],
              belt: { ratePerMin: whole(300), capacity: 38, transitMin: ratio(1n, 8n), lengthM: whole(3) },
            },
            { id: "c", from: "filler-1", to: "join", ...none },
            {
              id: "d",
              from: "filler-2",
              to: "join",
              only: null,
              belt: { ratePerMin: whole(60), capacity: 10, transitMin: ratio(1n, 6n), lengthM: null },
            },
            { id: "e", from: "join", to: "packer", ...none },
          ],
        },
      ],
      outlets: [],
      tactics: [],
    }),
  );
});

describe("belts", () => {
  const beltOf = (text: string) => {
    const line = read(changed(EXAMPLE, "{ rate: 270/min, length: 3 m, speed: 24 m/min, pitch: 80 mm }", text)).lines[0];
    return line?.layout === "chain" ? line.belt : undefined;
  };

  test("carry speed / pitch and take length / speed (handbook arithmetic)", () => {
    const belt = beltOf("{ length: 10 m, speed: 0.4 m/s, pitch: 80 mm }");
    expect([belt?.ratePerMin, belt?.transitMin].map((value) => value && exact(value))).toEqual(["300", "5/12"]);
    expect(belt?.capacity).toBe(125);
  });

  test("have room for one item at least", () => {
    expect(beltOf("{ length: 50 mm, speed: 24 m/min, pitch: 80 mm }")?.capacity).toBe(1);
  });

  test("may be none", () => expect(beltOf("none")).toBeNull());

  test("serve as branches where none are stated", () => {
    const text = EXAMPLE.split("\n")
      .filter((line) => !line.includes("branch:"))
      .join("\n");
    const line = read(text).lines[0];
    expect(line?.layout === "chain" && line.branch).toEqual(line?.layout === "chain" && line.belt);
  });
});

describe("machines", () => {
  const membersOf = (count: string) => read(changed(EXAMPLE, "    count: 8\n", count)).machines[0]?.members;

  test("without a count bear the group's name", () => expect(membersOf("")).toEqual(["cartoner"]));
  test("are numbered from a count of one on", () => expect(membersOf("    count: 1\n")).toEqual(["cartoner-1"]));

  test("a custom belt may name a group of one by the group", () => {
    const text = changed(CUSTOM_EXAMPLE, "packer: { cycle", "packer: { count: 1, cycle");
    const line = read(text).lines[0];
    expect(line?.layout === "custom" && line.belts.at(-1)?.to).toBe("packer-1");
  });
});

test("JSON reads as YAML does", () => {
  for (const text of [EXAMPLE, changed(CUSTOM_EXAMPLE, "seed: 0042", 'seed: "0042"')]) {
    expect(plain(read(JSON.stringify(parse(text), null, 2)))).toEqual(plain(read(text)));
  }
});

test("aliases repeat what they name", () => {
  const belt = "{ rate: 270/min, length: 3 m, speed: 24 m/min, pitch: 80 mm }";
  const anchored = changed(EXAMPLE, belt, `&through ${belt}`);
  const line = read(changed(anchored, anchored.match(/branch:.*/)?.[0] ?? "", "branch: *through")).lines[0];
  expect(line?.layout === "chain" && line.branch).toEqual(line?.layout === "chain" && line.belt);
});

test("names that are numbers keep their spelling and the file's order", () => {
  const feeds =
    "feeds:\n  10: { item: pouch, rate: 1/min }\n  2: { item: pouch, rate: 1/min }\n  007: { item: pouch, rate: 1/min }\n";
  const text = changed(changed(EXAMPLE, "feeds:\n", feeds), "[blender]", "[blender, 10, 2, 007]");
  expect(read(text).feeds.map((feed) => feed.id)).toEqual(["10", "2", "007", "blender"]);
});

test("names that objects have by nature are names like any other", () => {
  const text = EXAMPLE.replaceAll("blender", "constructor")
    .replaceAll("cartoner:", "toString:")
    .replace("[cartoner]", "toString");
  const scenario = read(text);
  expect(scenario.feeds[0]?.id).toBe("constructor");
  expect(scenario.machines[0]?.members[7]).toBe("toString-8");
});

describe("the title", () => {
  const titled = (title: string, name?: string) =>
    read(changed(EXAMPLE, "Eight cartoners on one chained belt", title), name).title;

  test("is the file's name where none is stated", () => {
    expect(read(EXAMPLE.replace(/title.*\n/, ""), "line.yaml")).toMatchObject({ title: "line.yaml" });
  });
  test("is taken as written", () => expect(titled("1.50")).toBe("1.50"));
  test("becomes one line", () => expect(titled(">\n  Two\n\n  lines\n")).toBe("Two lines"));
});

test("locate finds later findings their places", () => {
  const outcome = readScenario(EXAMPLE);
  if (!outcome.ok) throw new Error("unreadable");
  expect(outcome.locate(["machines", "cartoner", "infeed"])).toEqual({ line: 12, column: 13 });
  expect(outcome.locate(["machines", "cartoner"])).toEqual({ line: 7, column: 3 });
  expect(outcome.locate(["lines", "main", "to", 0])).toEqual({ line: 19, column: 10 });
  expect(outcome.locate(["lines", "main", "nowhere", 3])).toEqual({ line: 16, column: 3 });
  expect(outcome.locate([])).toEqual({ line: 1, column: 1 });
});
