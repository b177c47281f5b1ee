/** Surge buffers over time, and limits on hold-up in its picture. */
import { describe, expect, test } from "vitest";
import type { BatchResult, LimitResult } from "../../src/analysis/plant-results.ts";
import type { Result } from "../../src/analysis/result.ts";
import type { Series } from "../../src/analysis/series.ts";
import type { Picture, PictureDataset } from "../../src/report/chart/frame.ts";
import { paint, pictures } from "../../src/report/pictures.ts";
import { holdUpPicture } from "../../src/report/run/hold-up-picture.ts";
import { seriesCsv } from "../../src/report/run/run-report.ts";
import { surgesPicture } from "../../src/report/run/surges-picture.ts";
import { sample } from "./sample.ts";

const { result: base, series: plain } = sample({ machines: 4, endMin: 40 });

const QUAY: BatchResult = {
  feed: "quay",
  vehicles: { every_min: "10", items: 600, first_min: "2", unloading_per_min: "120", bring_per_min: "60" },
  surge: { room: 300, peak: 300, settled_low: 0, settled_high: 300 },
  held_up_min: 12,
  vehicles_wait_min: 0,
  cycle: { length_min: 10, fed: 600, held_up_min: 1.9, vehicles_wait_min: 0, runs_through: true, waits: [] },
  needed_room: 333,
  brings_too_much: false,
};

/** A saw that fills in the first half of every ten minutes. */
function saw(feed: string, room: number): Series["surges"][number] {
  return {
    feed,
    room,
    level: plain.timesMin.map((t) => Math.round(Math.min(room, 70 * Math.min(t % 10, 10 - (t % 10))))),
  };
}

function withSurges(rooms: Readonly<Record<string, number>>, batches: readonly BatchResult[] = []): [Result, Series] {
  const all = Object.entries(rooms).map(([feed, room]) => saw(feed, room));
  const known = all.map(
    ({ feed, room }) => batches.find((batch) => batch.feed === feed) ?? { ...QUAY, feed, surge: { ...SURGE, room } },
  );
  return [
    { ...base, batches: known },
    { ...plain, surges: all },
  ];
}

const SURGE = { room: 300, peak: 300, settled_low: 0, settled_high: 300 };

function dataset({ config }: Picture, label: string): PictureDataset | undefined {
  return config.data.datasets.find((set) => set.label === label);
}

describe("surge buffers", () => {
  test("have a picture only where there are any", () => {
    expect(pictures(base, plain).map(({ file }) => file)).not.toContain("surges.png");
    expect(pictures(...withSurges({ quay: 300 })).map(({ file }) => file)).toContain("surges.png");
  });

  test("one: its level, its room, the room needed, and its vehicles", async () => {
    const picture = surgesPicture(...withSurges({ quay: 300 }, [QUAY]));
    expect(dataset(picture, "room")?.data.map(({ y }) => y)).toEqual([300, 300]);
    expect(dataset(picture, "room needed")?.data.map(({ y }) => y)).toEqual([333, 333]);
    const comes = dataset(picture, "vehicles")?.data.map(({ x }) => x) ?? [];
    expect(comes.slice(0, 2)).toEqual([2, 12]);
    expect(Math.max(...(dataset(picture, "quay")?.data.map(({ y }) => y) ?? []))).toBe(300);
    expect(picture.finding).toBe(
      "quay holds at most 300 of 300 items; the line runs through; unloading is held up for 1.9 min of every 10 min.",
    );
    expect(Buffer.from(await paint(picture)).length).toBeGreaterThan(20_000);
  });

  test("no marks where vehicles come when there is place for them, nor a line for room that is there", () => {
    const cycle = QUAY.cycle && { ...QUAY.cycle, vehicles_wait_min: 3 };
    const picture = surgesPicture(...withSurges({ quay: 300 }, [{ ...QUAY, cycle, needed_room: null }]));
    expect(dataset(picture, "vehicles")).toBeUndefined();
    expect(dataset(picture, "room needed")).toBeUndefined();
  });

  test("several of one size in items, of several sizes in per cent of their room", () => {
    const alike = surgesPicture(...withSurges({ north: 300, south: 300 }));
    expect(JSON.stringify(alike.config.options?.scales?.y)).toContain('"items"');
    const unlike = surgesPicture(...withSurges({ north: 300, south: 150 }));
    expect(JSON.stringify(unlike.config.options?.scales?.y)).toContain("% of the room");
    expect(Math.max(...(dataset(unlike, "south")?.data.map(({ y }) => y) ?? []))).toBe(100);
    expect(unlike.finding).toBe(
      "north holds at most 300 of 300 and south holds at most 300 of 150; 2 hold unloading up.",
    );
  });

  test("more than can be told apart are said to be left out", () => {
    const rooms = Object.fromEntries(Array.from({ length: 11 }, (_, i) => [`dock-${i + 1}`, 100 + i]));
    const picture = surgesPicture(...withSurges(rooms));
    expect(picture.config.data.datasets).toHaveLength(1 + 8);
    expect(picture.finding).toContain("The first 8 of 11 are shown.");
  });

  test("are columns of series.csv", () => {
    const [, series] = withSurges({ quay: 300 });
    const [heading = "", first = ""] = seriesCsv(series).split("\r\n");
    const column = heading.split(",").indexOf("surge_items:quay");
    expect(column).toBeGreaterThan(2);
    expect(first.split(",")[column]).toBe(String(series.surges[0]?.level[0]));
    expect(seriesCsv(plain)).not.toContain("surge_items");
  });
});

describe("a limit in the picture of hold-up", () => {
  const peak = base.hold_up.peak;
  const limit = (changes: Partial<LimitResult>): LimitResult => ({
    what: "hold-up",
    place: null,
    item: "pouch",
    limit: Math.round(peak * 0.9),
    peak,
    peak_at_min: 10,
    over_min: 3,
    settled_over_share: 1,
    over_items: null,
    lying_over: null,
    ...changes,
  });
  const painted = (...limits: LimitResult[]): Picture => holdUpPicture({ ...base, limits }, plain);

  test("of the whole plant is a line", async () => {
    const level = Math.round(peak * 0.9);
    expect(dataset(painted(limit({})), "limit")?.data.map(({ y }) => y)).toEqual([level, level]);
    expect(Buffer.from(await paint(painted(limit({})))).length).toBeGreaterThan(20_000);
  });

  test("has its kind lowest, so that it can be read off", () => {
    const kinds = (picture: Picture) => picture.config.data.datasets.map(({ label }) => label);
    expect(kinds(painted(limit({})))).toEqual(["limit", "settled", "pouch", "carton"]);
    expect(kinds(painted(limit({ item: "carton", limit: 5, peak: 6 })))).toEqual([
      "limit",
      "settled",
      "carton",
      "pouch",
    ]);
  });

  test("is the one exceeded furthest; places and dwell have none, nor has one far above all", () => {
    const both = painted(limit({}), limit({ item: "carton", limit: 3, peak: 6 }));
    expect(dataset(both, "limit")?.data[0]?.y).toBe(3);
    expect(dataset(painted(limit({ place: "main" })), "limit")).toBeUndefined();
    expect(dataset(painted(limit({ what: "dwell" })), "limit")).toBeUndefined();
    expect(dataset(painted(limit({ limit: peak * 3 })), "limit")).toBeUndefined();
  });

  test("the subtitle speaks of the limit that is drawn, or says where another is exceeded", () => {
    expect(painted(limit({})).finding).toMatch(/; over the limit on pouch for 3 min\.$/);
    // Exceeded for longer elsewhere, which the line does not show.
    const elsewhere = limit({ place: "main", over_min: 30 });
    expect(painted(limit({}), elsewhere).finding).toMatch(/; over the limit on pouch for 3 min\.$/);
    expect(painted(elsewhere).finding).toMatch(/; over the limit on pouch at main for 30 min\.$/);
    const kept = limit({ limit: peak * 1.5, over_min: 0 });
    expect(painted(kept, elsewhere).finding).toMatch(/; over the limit on pouch at main for 30 min\.$/);
    expect(painted(kept).finding).not.toContain("limit");
  });

  test("just above the peak is within the plot", () => {
    const picture = painted(limit({ limit: peak * 1.9 }));
    const scale = picture.config.options?.scales?.y;
    expect(scale && "max" in scale ? scale.max : 0).toBeGreaterThan(peak * 1.9);
  });
});
