import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { exact, ratio, whole } from "../../src/quantity/rational.ts";
import { DEFAULT_FLOOR } from "../../src/scenario/floor.ts";
import { PLAIN_MEANS } from "../../src/scenario/means.ts";
import { readScenario } from "../../src/scenario/read.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { CUSTOM_EXAMPLE, changed, EXAMPLE, PLANT_EXAMPLE, plain } from "./example.ts";

function read(text: string, name?: string): Scenario {
  const outcome = readScenario(text, name === undefined ? {} : { name });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  return outcome.scenario;
}

/** A feed of one kind that feeds all the time, straight onto its line. */
function fed(item: string) {
  return { items: [{ item, count: 1 }], order: "spread", ofNeed: null, batch: null, surge: null };
}

test("the chain example", () => {
  const belt = {
    ratePerMin: whole(270),
    capacity: 38,
    transitMin: ratio(1n, 8n),
    metres: { lengthM: whole(3), speedMPerMin: whole(24), pitchM: ratio(2n, 25n) },
  };
  const branch = {
    ratePerMin: whole(270),
    capacity: 13,
    transitMin: ratio(1n, 24n),
    metres: { lengthM: whole(1), speedMPerMin: whole(24), pitchM: ratio(2n, 25n) },
  };
  expect(plain(read(EXAMPLE))).toEqual(
    plain({
      title: "Eight cartoners on one chained belt",
      horizonMin: whole(240),
      horizonIsAuto: false,
      tickS: "auto",
      lengthUnit: "m",
      wanted: [],
      seed: "1",
      feeds: [{ ...fed("pouch"), id: "blender", profile: [{ fromMin: whole(0), ratePerMin: whole(240) }] }],
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
          footprint: DEFAULT_FLOOR.machine,
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
          collect: belt,
          dividers: "even",
          merges: "even",
          end: { kind: "stop" },
        },
      ],
      outlets: [{ id: "dispatch", item: "carton" }],
      limits: { holdUp: [], dwell: [] },
      floor: DEFAULT_FLOOR,
      random: { machines: [], feeds: [] },
      means: PLAIN_MEANS,
      costs: null,
      tactics: [],
    }),
  );
});

test("the custom example", () => {
  const none = { only: null, belt: null };
  expect(plain(read(CUSTOM_EXAMPLE))).toEqual(
    plain({
      title: "Two fillers, one packer",
      horizonMin: whole(210),
      horizonIsAuto: true,
      tickS: ratio(1n, 10n),
      lengthUnit: "m",
      wanted: [],
      seed: "0042",
      feeds: [
        {
          ...fed("can"),
          id: "silo",
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
          footprint: DEFAULT_FLOOR.machine,
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
          footprint: DEFAULT_FLOOR.machine,
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
              belt: { ratePerMin: whole(270), capacity: 37, transitMin: ratio(1n, 8n), metres: null },
            },
            { id: "a", from: "split", to: "filler-1", ...none },
            {
              id: "b",
              from: "split",
              to: "filler-2",
              only: ["can"],
              belt: {
                ratePerMin: whole(300),
                capacity: 38,
                transitMin: ratio(1n, 8n),
                metres: { lengthM: whole(3), speedMPerMin: whole(24), pitchM: ratio(2n, 25n) },
              },
            },
            { id: "c", from: "filler-1", to: "join", ...none },
            {
              id: "d",
              from: "filler-2",
              to: "join",
              only: null,
              belt: { ratePerMin: whole(60), capacity: 10, transitMin: ratio(1n, 6n), metres: null },
            },
            { id: "e", from: "join", to: "packer", ...none },
          ],
        },
      ],
      outlets: [],
      limits: { holdUp: [], dwell: [] },
      floor: DEFAULT_FLOOR,
      random: { machines: [], feeds: [] },
      means: PLAIN_MEANS,
      costs: null,
      tactics: [],
    }),
  );
});

describe("feeds", () => {
  const feeds = () => read(PLANT_EXAMPLE).feeds;
  const press = (from: string, to: string) => read(changed(PLANT_EXAMPLE, from, to)).feeds[0];

  test("of several kinds, and of vehicles with a surge buffer", () => {
    expect(plain(feeds())).toEqual(
      plain([
        {
          id: "press",
          items: [
            { item: "red", count: 3 },
            { item: "blue", count: 2 },
          ],
          order: "blocks",
          profile: [{ fromMin: whole(0), ratePerMin: whole(50) }],
          ofNeed: null,
          batch: null,
          surge: null,
        },
        {
          ...fed("jar"),
          id: "dock",
          profile: [{ fromMin: whole(0), ratePerMin: whole(60) }],
          ofNeed: null,
          batch: { everyMin: whole(20), items: 900, firstMin: whole(5) },
          surge: 300,
        },
      ]),
    );
  });

  test("spread their kinds, and meet the first vehicle at once, if nothing else is stated", () => {
    expect(press(", order: blocks", "")?.order).toBe("spread");
    const dock = read(changed(PLANT_EXAMPLE, ", first: 5 min", "")).feeds[1];
    expect(plain(dock?.batch?.firstMin)).toEqual(plain(whole(0)));
  });

  test("of one kind are the same however they state it", () => {
    const one = "items: { jar: 7 }, order: blocks";
    expect(plain(read(changed(PLANT_EXAMPLE, "item: jar", one)).feeds)).toEqual(plain(feeds()));
  });

  test("may have any proportions within the limits", () => {
    expect(press("red: 3, blue: 2", "red: 50000, blue: 50000")?.items[0]?.count).toBe(50_000);
    const spread = "items: { red: 5000, blue: 5000 }";
    expect(press("items: { red: 3, blue: 2 }, order: blocks", spread)?.order).toBe("spread");
    const alike = "items: { red: 700000, blue: 300000 }";
    expect(press("items: { red: 3, blue: 2 }, order: blocks", alike)?.items[1]?.count).toBe(300_000);
  });
});

describe("chains", () => {
  const linesOf = (text: string) => new Map(read(text).lines.map((line) => [line.id, line]));
  const chain = (id: string, text = PLANT_EXAMPLE) => {
    const line = linesOf(text).get(id);
    if (line?.layout !== "chain") throw new Error(`no chain ${id}`);
    return line;
  };
  const belt = (ratePerMin: number, capacity: number) => {
    return {
      ratePerMin: whole(ratePerMin),
      capacity,
      transitMin: ratio(BigInt(capacity), BigInt(ratePerMin)),
      metres: null,
    };
  };

  test("collect from machines and feeds, with belts and a rule of their own", () => {
    const { from, belt: through, branch, collect, merges } = chain("caps");
    expect(plain({ from, through, branch, collect, merges })).toEqual(
      plain({
        from: ["filler", "press"],
        through: belt(120, 12),
        branch: belt(120, 12),
        collect: belt(90, 9),
        merges: "belt-first",
      }),
    );
  });

  test("collect as they carry on, in turns, if nothing else is stated", () => {
    const text = PLANT_EXAMPLE.split("\n").filter((line) => !/^ {4}(collect|merges|return)/.test(line));
    const { collect, merges, end } = chain("caps", text.join("\n"));
    expect(plain({ collect, merges })).toEqual(plain({ collect: belt(120, 12), merges: "even" }));
    expect(plain(end)).toEqual(plain({ kind: "return", belt: belt(120, 12) }));
  });

  test("stop, return, or end at an outlet", () => {
    expect(plain(["jars", "caps", "boxes"].map((id) => chain(id).end))).toEqual(
      plain([{ kind: "stop" }, { kind: "return", belt: belt(60, 30) }, { kind: "outlet", outlet: "yard" }]),
    );
  });

  test("may collect from a machine that another collects from too", () => {
    const scrap = "outlets: { bin: { item: filled }, shelf";
    const second = "  second: { layout: chain, from: filler-1, to: bin, belt: none }\noutlets: { shelf";
    const text = changed(changed(PLANT_EXAMPLE, "outlets: { shelf", second), "outlets: { shelf", scrap);
    expect(chain("second", text).from).toEqual(["filler-1"]);
  });

  test("collect for the outlet at their end alone, too", () => {
    const text = changed(
      PLANT_EXAMPLE,
      "end: yard }",
      "end: yard }\n  bare: { layout: chain, from: capper, to: shelf, belt: none, end: bin }",
    );
    expect(chain("bare", changed(text, "outlets: {", "outlets: { bin: { item: capped },")).end).toEqual({
      kind: "outlet",
      outlet: "bin",
    });
  });

  test("may state a collecting belt from one machine to a return's merge", () => {
    const text = changed(
      PLANT_EXAMPLE,
      "from: capper,",
      "from: capper, end: return, collect: { rate: 30/min, capacity: 3 },",
    );
    expect(plain(chain("packing", text).collect)).toEqual(plain(belt(30, 3)));
  });
});

describe("limits", () => {
  const dwellOf = (dwell: string) => {
    return read(changed(PLANT_EXAMPLE, "dwell: { jar: 30 min, red: 90 s }", dwell)).limits.dwell;
  };

  test("of the plant and of places, in the file's order", () => {
    expect(read(PLANT_EXAMPLE).limits.holdUp).toEqual([
      { place: null, item: "jar", most: 1500 },
      { place: "caps", item: "red", most: 90 },
      { place: "caps", item: "blue", most: 60 },
      { place: "filler-2", item: "jar", most: 15 },
      { place: "dock", item: "jar", most: 250 },
    ]);
  });

  test("of dwell, by kind or for all", () => {
    expect(plain(dwellOf("dwell: { jar: 30 min, red: 90 s }"))).toEqual(
      plain([
        { item: "jar", limitMin: whole(30) },
        { item: "red", limitMin: ratio(3n, 2n) },
      ]),
    );
    expect(plain(dwellOf("dwell: 10 min"))).toEqual(plain([{ item: null, limitMin: whole(10) }]));
    expect(dwellOf("# none")).toEqual([]);
  });

  test("a line called as a feed without a surge buffer is the line", () => {
    const text = changed(PLANT_EXAMPLE, "  jars: {", "  press: {").replace("caps: { red", "press: { red");
    expect(read(text).limits.holdUp[1]?.place).toBe("press");
  });
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
  for (const text of [EXAMPLE, PLANT_EXAMPLE, changed(CUSTOM_EXAMPLE, "seed: 0042", 'seed: "0042"')]) {
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
