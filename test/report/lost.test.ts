import { describe, expect, test } from "vitest";
import type { Cause, Jam, Mix, Wait } from "../../src/analysis/plant-results.ts";
import type { Result } from "../../src/analysis/result.ts";
import { findings } from "../../src/report/run/findings.ts";
import { reportMarkdown } from "../../src/report/run/run-report.ts";
import { plain } from "../../src/report/text/figures.ts";
import type { FindingCode } from "../../src/report/text/finding.ts";
import { sample } from "./sample.ts";

const base = sample({ machines: 4, endMin: 14 }).result;

function said(result: Result, code: FindingCode): string[] {
  return findings(result)
    .filter((finding) => finding.code === code)
    .map(({ text }) => plain(text));
}

function cause(given: Partial<Cause> = {}): Cause {
  return { code: "short-feed", element: "press", alike: [], item: "blank", via: [], served_first: [], ...given };
}

function wait(given: Partial<Wait> = {}): Wait {
  return { state: "starved", item: "lid", minutes: 120, settled_share: 0.5, cause: cause(), ...given };
}

/** The first machines wait as given; each loses its products to the cause. */
function lossy(waits: readonly Wait[], others: Partial<Result> = {}): Result {
  const machines = base.machines.map((machine, m) => {
    const own = waits[m];
    return own === undefined ? machine : { ...machine, settled_per_min: "15", waits: [own] };
  });
  const bottlenecks = waits.flatMap(({ cause: why }, m) =>
    why === null
      ? []
      : [
          {
            code: why.code,
            element: why.element,
            alike: why.alike,
            item: why.item,
            machines: [machines[m]?.id ?? ""],
            lost_per_min: 15,
          },
        ],
  );
  return { ...base, machines, bottlenecks, ...others };
}

describe("why a machine waits", () => {
  const texts: readonly (readonly [string, Wait, string])[] = [
    [
      "a feed gives all it has, and others come first",
      wait({
        cause: cause({
          via: [{ machine: "lid-maker", state: "starved", item: "blank" }],
          served_first: ["jar-maker-1", "jar-maker-2"],
        }),
      }),
      "cartoner-1 waits for lid 50 % of the time, because lid-maker waits for blank, since feed press gives all the blank it has, and jar-maker-1 and jar-maker-2 take theirs first.",
    ],
    [
      "a slower machine before it",
      wait({ cause: cause({ code: "slow-machine", element: "saw" }) }),
      "cartoner-1 waits for lid 50 % of the time, because saw runs all the time and makes no more.",
    ],
    [
      "a slower machine behind it",
      wait({ state: "blocked", item: "carton", cause: cause({ code: "slow-machine", element: "wrapper" }) }),
      "cartoner-1 has no room for its carton 50 % of the time, because wrapper runs all the time and takes no more.",
    ],
    [
      "a machine behind it that lacks its other part",
      wait({
        state: "blocked",
        item: "jar",
        cause: cause({ via: [{ machine: "capper", state: "starved", item: "lid" }] }),
      }),
      "cartoner-1 has no room for its jar 50 % of the time, because capper waits for lid, since feed press gives all the blank it has.",
    ],
    [
      "another kind in the way",
      wait({ cause: cause({ code: "mix", element: "main", item: "blue" }) }),
      "cartoner-1 waits for lid 50 % of the time, because blue is in the way on line main.",
    ],
    [
      "a jam",
      wait({ settled_share: 1, cause: cause({ code: "jam", element: "main.in", item: "blue" }) }),
      "cartoner-1 waits for lid 100 % of the time, because blue stands at main.in for ever.",
    ],
    [
      "an outlet that takes something else",
      wait({ state: "blocked", item: "jar", cause: cause({ code: "outlet", element: "door", item: "jar" }) }),
      "cartoner-1 has no room for its jar 50 % of the time, because door takes no jar.",
    ],
  ];

  test.each(texts)("%s", (_, given, text) => {
    expect(said(lossy([given]), "wait")).toEqual([text]);
  });

  test("a belt at its limit, with its rate", () => {
    const [belt] = base.belts;
    const limit = cause({ code: "belt", element: belt?.id ?? "", item: "lid" });
    const belts = base.belts.map((one) => (one === belt ? { ...one, settled_per_min: "30" } : one));
    expect(said(lossy([wait({ cause: limit })], { belts }), "wait")).toEqual([
      "cartoner-1 waits for lid 50 % of the time, because belt main.through-1 carries no more than 30/min.",
    ]);
  });

  test("several alike", () => {
    const packers = cause({ code: "slow-machine", element: "pack-1", alike: ["pack-2", "pack-3"], item: "part" });
    expect(said(lossy([wait({ state: "blocked", item: "part", cause: packers })]), "wait")[0]).toContain(
      "because pack-1, pack-2 and pack-3 run all the time and take no more.",
    );
    expect(said(lossy([wait({ cause: cause({ alike: ["saw"] }) })]), "wait")[0]).toContain(
      "because feeds press and saw give all the blank they have.",
    );
  });

  test("a feed that has ended", () => {
    const feeds = base.feeds.map((feed) => ({ ...feed, rate_per_min: "0", settled_per_min: "0" }));
    const ended = wait({ settled_share: 1, cause: cause({ element: "blender", item: "pouch" }) });
    expect(said(lossy([ended], { feeds }), "wait")[0]).toContain("because feed blender offers nothing any more.");
  });

  test("machines that wait alike are told together, and not too many groups one by one", () => {
    const alike = lossy([wait(), wait({ settled_share: 0.75 })]);
    expect(said(alike, "wait")).toEqual([
      "cartoner-1 and cartoner-2 wait for lid 50 % to 75 % of the time, because feed press gives all the blank it has.",
    ]);
    const apart = lossy(["a", "b", "c", "d"].map((item) => wait({ item })));
    expect(said(apart, "wait")).toHaveLength(4);
    expect(said(apart, "wait")[3]).toBe("Another group of machines waits in another way: see the report's table.");
  });

  test("a long way is cut short", () => {
    const via = Array.from({ length: 9 }, (_, i) => ({ machine: `m${i}`, state: "starved" as const, item: "x" }));
    expect(said(lossy([wait({ cause: cause({ via }) })]), "wait")[0]).toBe(
      "cartoner-1 waits for lid 50 % of the time, because m0 waits for x, since m1 waits for x, since m2 waits for x, and so on, since feed press gives all the blank it has.",
    );
  });

  test("a machine that waits and is not final is left to the table", () => {
    const result = { ...lossy([wait()]), bottlenecks: [] };
    expect(said(result, "wait")).toEqual([]);
    expect(plain(reportMarkdown(result, []))).toContain(
      "| cartoner-1 | starved | lid | 120.0 | 50.0 | feed press gives all the blank it has |",
    );
  });
});

describe("the bottleneck", () => {
  const over = { via: [{ machine: "lid-maker", state: "starved" as const, item: "blank" }] };

  test("is named, with what is lost to it, and the next ones", () => {
    const second = cause({ code: "slow-machine", element: "saw", item: "slab" });
    expect(said(lossy([wait({ cause: cause(over) }), wait({ cause: second })]), "bottleneck")).toEqual([
      "The bottleneck is feed press, which gives all the blank it has (15/min lost). After it: saw, which runs all the time (15/min lost).",
    ]);
  });

  test("is one where a feed is short of several kinds", () => {
    const of = (item: string) => wait({ cause: cause({ ...over, item }) });
    expect(said(lossy([of("red"), of("blue")]), "bottleneck")).toEqual([
      "The bottleneck is feed press, which gives all the red and blue it has (30/min lost).",
    ]);
  });

  test("is not named twice where the final machines wait for it straight away", () => {
    expect(said(lossy([wait()]), "bottleneck")).toEqual([]);
  });

  test("of a plant of several lines at full output there is none", () => {
    const [line] = base.lines;
    const lines = line === undefined ? [] : [line, { ...line, id: "second" }];
    const full = { ...base.output, settled_per_min: base.output.full_per_min };
    expect(said({ ...base, lines, output: full }, "bottleneck")).toEqual([
      "There is no bottleneck before the last machines: all of them run all the time.",
    ]);
    expect(said({ ...base, output: full }, "bottleneck")).toEqual([]);
    expect(said({ ...base, bottlenecks: null }, "bottleneck")).toEqual([]);
  });
});

const mix: Mix = {
  line: "main",
  jams: false,
  kinds: [
    { item: "red", offered_per_min: "30", takeable_per_min: "36", beside_per_min: "36" },
    { item: "blue", offered_per_min: "20", takeable_per_min: "25", beside_per_min: "25" },
  ],
  nearest: "red",
  margin: "1/5",
  rule: "shares",
};

const jam: Jam = {
  line: "main",
  item: "blue",
  belt: "main.through-8",
  at: "cartoner-4",
  also: [],
  is_full: true,
  since_min: 23.14,
  starved: [
    { machine: "cartoner-1", item: "red" },
    { machine: "cartoner-4", item: "red" },
  ],
  blocked: [],
  dividers: [],
  stops_plant: true,
};

describe("a jam", () => {
  test("what stands where since when, who does not take it, who starves, and how far the mix is off", () => {
    const kinds = mix.kinds.map((kind) => {
      const most = kind.item === "red" ? "40" : "15";
      return { ...kind, takeable_per_min: most, beside_per_min: most };
    });
    const mixes = [{ ...mix, jams: true, kinds }];
    expect(said({ ...base, jams: [jam], mixes }, "jam")).toEqual([
      "Jam: since 23.1 min blue stands at the end of main.through-8, and the blue buffer of cartoner-4 there is full. Behind it starve cartoner-1 and cartoner-4 of red. 20/min of blue come, 15/min can be taken.",
    ]);
    expect(said({ ...base, jams: [jam], mixes }, "mix")).toEqual([]);
  });

  test("dividers to blame where no more of the kind comes than can be taken, and what may help", () => {
    const dividers = [{ divider: "main.divider-3", takes_turns: true }];
    const astray: Jam = { ...jam, is_full: false, dividers };
    expect(said({ ...base, jams: [astray], mixes: [{ ...mix, jams: true }] }, "jam")[0]).toMatch(
      / As a whole the mix fits \(20\/min of blue come, 25\/min can be taken\): main\.divider-3, which takes turns, sends some of it on past the last machine that takes it\. What may help: dividers that serve the branch first, another order of the feed, or a far end that takes what passes\.$/,
    );
    const kinds = mix.kinds.map((kind) => (kind.item === "blue" ? { ...kind, beside_per_min: "40/2" } : kind));
    const ordered: Jam = { ...jam, dividers: dividers.map((one) => ({ ...one, takes_turns: false })) };
    expect(said({ ...base, jams: [ordered], mixes: [{ ...mix, jams: true, kinds }] }, "jam")[0]).toMatch(
      /\(20\/min of blue come, 20\/min can be taken beside what comes of the other kinds\): main\.divider-3 parts it unevenly among the machines\. What may help: another order/,
    );
  });

  test("a mix that is fed too fast as a whole is not off", () => {
    const kinds = mix.kinds.map((kind) => ({
      ...kind,
      offered_per_min: "40",
      takeable_per_min: "30",
      beside_per_min: "30",
    }));
    expect(said({ ...base, jams: [jam], mixes: [{ ...mix, jams: true, kinds }] }, "jam")[0]).toContain(
      "As a whole the mix fits, though more comes than can be taken (40/min of blue come, 30/min can be taken).",
    );
  });

  test("where nobody ever takes it, in several places, with machines blocked", () => {
    const other = { ...jam, is_full: false, also: ["main.branch-1"], starved: [], blocked: ["stamp"] };
    expect(said({ ...base, jams: [other] }, "jam")).toEqual([
      "Jam: since 23.1 min blue stands at the end of main.through-8, and cartoner-4 there takes no blue. It stands likewise at the end of main.branch-1. Blocked behind it is stamp.",
    ]);
    const divider = {
      ...other,
      at: "main.sort",
      since_min: null,
      also: [],
      blocked: [],
      starved: jam.starved.slice(1),
    };
    expect(said({ ...base, jams: [divider] }, "jam")).toEqual([
      "Jam: blue stands at the end of main.through-8, and main.sort lets no blue on. Behind it starves cartoner-4 of red.",
    ]);
  });

  test("is told of a line that stops for good too, and stands in a table", () => {
    const stopped = { ...base, output: { ...base.output, settled_per_min: "0" }, jams: [jam], mixes: [mix] };
    expect(said(stopped, "jam")).toHaveLength(1);
    expect(plain(reportMarkdown(stopped, []))).toContain(
      "| blue | main.through-8 | cartoner-4 | buffer full | 23.1 | – | cartoner-1 (red) and cartoner-4 (red) | – |",
    );
  });
});

describe("a mix that does not jam", () => {
  const texts: readonly (readonly [string, Partial<Mix>, string])[] = [
    ["how far it may go", {}, "; the share of red may rise from 60 % to 72 % before it holds up the line."],
    [
      "no further at all",
      {
        margin: "0",
        nearest: "blue",
        kinds: [
          mix.kinds[0],
          { item: "blue", offered_per_min: "20", takeable_per_min: "20", beside_per_min: "20" },
        ].flatMap((one) => one ?? []),
      },
      ", but with any more blue it would be held up.",
    ],
    [
      "too much already",
      {
        margin: "0",
        nearest: "blue",
        kinds: [
          mix.kinds[0],
          { item: "blue", offered_per_min: "20", takeable_per_min: "15", beside_per_min: "15" },
        ].flatMap((one) => one ?? []),
      },
      ", but blue holds it up: 20/min are offered, 15/min can be taken.",
    ],
    [
      "kinds taken together",
      { margin: "0", rule: "proportion" },
      ", but there is no margin: machines take kinds of it together, and whatever comes above that proportion fills the line at last.",
    ],
    [
      "a dead end",
      { margin: "0", rule: "dead-end" },
      ", but there is no margin: red can come past all who take it, and would stand there for ever.",
    ],
  ];

  test.each(texts)("%s", (_, given, text) => {
    expect(said({ ...base, mixes: [{ ...mix, ...given }] }, "mix")).toEqual([
      `Line main carries red and blue and does not jam with this mix${text} For another mix, run it again.`,
    ]);
  });

  test("kinds taken together, one of which has an outlet", () => {
    const kinds = mix.kinds.map((kind) =>
      kind.item === "blue" ? { ...kind, takeable_per_min: null, beside_per_min: null } : kind,
    );
    const given: Mix = { ...mix, kinds, margin: "0", rule: "proportion" };
    expect(said({ ...base, mixes: [given] }, "mix")[0]).toContain(
      "with this mix; how much more red it stands no rule tells, since machines take it together with other kinds.",
    );
  });

  test("safe at any mix, and not proved", () => {
    const safe = { ...mix, margin: null, nearest: null };
    expect(said({ ...base, mixes: [safe, { ...safe, rule: "outlet" as const }] }, "mix")).toEqual([
      "Line main carries red and blue and does not jam with this mix: each could come alone at that rate.",
      "Line main carries red and blue and does not jam with this mix: each kind has an outlet to leave by.",
    ]);
    expect(said({ ...base, jams: null, mixes: [{ ...mix, jams: null }] }, "mix")[0]).toMatch(
      /has not jammed within the horizon, which proves nothing; the share of red may rise/,
    );
  });

  test("stands in a table, with the margin beside its kind", () => {
    const text = plain(reportMarkdown({ ...base, mixes: [mix] }, []));
    expect(text).toContain("| main | red | 30 | 36 | 36 | 20.0 |");
    expect(text).toContain("| main | blue | 20 | 25 | 25 |  |");
  });
});
