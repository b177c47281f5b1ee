import { createCanvas } from "@napi-rs/canvas";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { font, textPixels } from "../../src/report/chart/font.ts";
import type { Picture, PictureDataset } from "../../src/report/chart/frame.ts";
import { PICTURE_FILES, paint, pictures } from "../../src/report/pictures.ts";
import { buffersPicture } from "../../src/report/run/buffers-picture.ts";
import { holdUpPicture } from "../../src/report/run/hold-up-picture.ts";
import { outputPicture } from "../../src/report/run/output-picture.ts";
import { statesPicture } from "../../src/report/run/states-picture.ts";
import { sample } from "./sample.ts";

const eight = sample({ machines: 8, title: "Eight cartoners" });
const long = sample({ machines: 28, endMin: 30 });

function texts(picture: Picture): { title: string; subtitle: string; x: string; y: string } {
  const { plugins, scales } = picture.config.options ?? {};
  const axis = (scale: unknown): string => JSON.stringify(scale);
  return {
    title: [plugins?.title?.text ?? ""].flat().join(" "),
    subtitle: [plugins?.subtitle?.text ?? ""].flat().join(" "),
    x: axis(scales?.x),
    y: axis(scales?.y),
  };
}

function dataset(picture: Picture, label: string): PictureDataset {
  const found = picture.config.data.datasets.find((set) => set.label === label);
  if (found === undefined) throw new Error(`no data set ${label}`);
  return found;
}

function pluginIds(picture: Picture): string[] {
  return (picture.config.plugins ?? []).map(({ id }) => id);
}

describe("every picture", () => {
  const all = pictures(eight.result, eight.series);

  test("has a file of the report, a title that says what, a subtitle that says what was found, and units", () => {
    expect(all.map(({ file }) => file)).toEqual(PICTURE_FILES.run.filter((file) => file !== "surges.png"));
    for (const picture of all) {
      const { title, subtitle, x } = texts(picture);
      expect(title).toContain("Eight cartoners");
      expect(subtitle).toBe(picture.finding);
      expect(subtitle).toMatch(/\d.*\.$/);
      expect(x).toContain("minutes");
      expect(picture.width).toBe(1200);
    }
  });

  test("is a PNG of its size, not blank, the same bytes each time", async () => {
    for (const [index, picture] of all.entries()) {
      const png = Buffer.from(await paint(picture));
      expect(png.subarray(0, 8)).toEqual(Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]));
      expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([picture.width, picture.height]);
      expect(png.length).toBeGreaterThan(20_000);
      const again = pictures(eight.result, eight.series)[index];
      expect(again === undefined ? null : Buffer.from(await paint(again)).equals(png)).toBe(true);
    }
  });
});

describe("buffers", () => {
  test("up to four are lines in items, told apart by dash or marker, too", () => {
    const four = sample({ machines: 4 });
    const picture = buffersPicture(four.result, four.series);
    expect(texts(picture).y).toContain("level, items");
    const first = dataset(picture, "cartoner-1");
    expect(first.data.at(-1)?.y).toBe(100);
    const looks = four.series.machines.map(({ id }) => {
      const set = dataset(picture, id);
      return JSON.stringify([set.borderDash, "pointStyle" in set ? set.pointStyle : ""]);
    });
    expect(new Set(looks).size).toBe(4);
    expect(pluginIds(picture)).toContain("endLabels");
    expect(buffersPicture(eight.result, eight.series).finding).toBe(
      "6 of 8 buffers fill, the last at 14.7 min (cartoner-6); cartoner-7 and cartoner-8 never do.",
    );
  });

  test("a buffer that is not full by the end of an unproved run is not called never full", () => {
    const unproved = { ...eight.result, settling: { ...eight.result.settling, proved: false } };
    expect(buffersPicture(unproved, eight.series).finding).toMatch(
      /; cartoner-7 and cartoner-8 are not full by the end\.$/,
    );
  });

  test("capacities that differ are compared in per cent", () => {
    const { result, series } = sample({ machines: 2, twoKinds: true, feed: 90 });
    const picture = buffersPicture(result, series);
    expect(texts(picture).y).toContain("% of capacity");
    expect(dataset(picture, "cartoner-1 tray").data.at(-1)?.y).toBe(100);
  });

  test("more are a heat map, head of the line on top, with the first full moments marked", () => {
    const picture = buffersPicture(long.result, long.series);
    expect(pluginIds(picture)).toEqual(["levelCells", "sideColumns", "key"]);
    const marks = dataset(picture, "full for the first time").data;
    expect(marks.map(({ y }) => y)).toEqual(Array.from({ length: 26 }, (_, i) => i));
    const rows = JSON.parse(texts(picture).y);
    expect([rows.type, rows.labels[0], rows.labels.length]).toEqual(["category", "cartoner-1", 28]);
  });
});

test("states: a row each, uptimes at the side, only states that occur in the key", () => {
  const picture = statesPicture(long.result, long.series);
  expect(pluginIds(picture)).toEqual(["stateCells", "sideColumns", "key"]);
  expect(JSON.parse(texts(picture).y).labels).toHaveLength(28);
  expect(picture.finding).toMatch(/^Every machine runs all the time from [\d.]+ min on\.$/);
});

describe("output", () => {
  test("settled level, tolerance band and both times", () => {
    const picture = outputPicture(eight.result, eight.series);
    expect(texts(picture).y).toContain("items/min");
    expect(dataset(picture, "settled").data.map(({ y }) => y)).toEqual([240, 240]);
    expect(dataset(picture, "tolerance, below").data[0]?.y).toBeCloseTo(228);
    expect(dataset(picture, "tolerance, above").data[0]?.y).toBeCloseTo(252);
    // What follows a line proved to repeat is known, so that the average does not end before the series does.
    const average = dataset(picture, "moving average").data.at(-1);
    expect(average?.x).toBeCloseTo(20, 2);
    expect(average?.y).toBeCloseTo(240);
    expect(pluginIds(picture)).toContain("timeMarks");
    expect(picture.finding).toBe("Settles at 240/min: 95 % from 14.7 min, all of it from 14.7 min.");
    expect(picture.config.data.datasets.some(({ label }) => label === "full")).toBe(false);
  });

  test("full output has its own line where it is not reached", () => {
    const { result, series } = sample({ machines: 8, feed: 216 });
    expect(dataset(outputPicture(result, series), "full").data[0]?.y).toBe(240);
  });

  test("nothing settled is said and nothing is drawn for it", async () => {
    const { measured_per_min: _, ...output } = { ...eight.result.output, settled_per_min: null, measured_per_min: 0 };
    const settling = { ...eight.result.settling, proved: false, time_min: null, within_tolerance_min: null };
    const picture = outputPicture({ ...eight.result, output, settling }, eight.series);
    expect(picture.finding).toBe("Not settled within the horizon of 4 h.");
    expect(picture.config.data.datasets.map(({ label }) => label)).toEqual(["moving average", "short means", "full"]);
    expect((await paint(picture)).length).toBeGreaterThan(20_000);
  });
});

describe("short means", () => {
  const averages = (settling: Partial<(typeof eight.result)["settling"]>) =>
    dataset(
      outputPicture({ ...eight.result, settling: { ...eight.result.settling, ...settling } }, eight.series),
      "short means",
    ).data;

  test("span whole periods where these are short", () => {
    // Samples of 4 s; periods of 8 s make them of an even number of samples.
    const [first, second] = averages({ period_min: 2 / 15 });
    const samples = ((second?.x ?? 0) - (first?.x ?? 0)) * 15;
    expect(samples).toBeCloseTo(2 * Math.round(samples / 2));
  });

  test("end where the line has settled if periods are long", () => {
    expect(averages({ period_min: 9.7, time_min: 14 }).at(-1)?.x).toBeLessThanOrEqual(14);
    expect(averages({ proved: false, basis: "flow", time_min: 14 }).at(-1)?.x).toBeGreaterThan(19);
  });
});

test("a line that stops: no band around nothing, and what was found says so", () => {
  const output = { ...eight.result.output, settled_per_min: "0", made: 10 };
  const settling = { ...eight.result.settling, time_min: 14, within_tolerance_min: null };
  const machines = eight.result.machines.map((machine) => ({ ...machine, uptime: { ...machine.uptime, settled: 0 } }));
  const result = { ...eight.result, output, settling, machines };
  const picture = outputPicture(result, eight.series);
  expect(picture.finding).toBe("Nothing is made from 14 min on: the line stops for good.");
  expect(picture.config.data.datasets.every(({ data }) => data.every(({ y }) => Number.isFinite(y)))).toBe(true);
  expect(statesPicture(result, eight.series).finding).toBe("No machine runs from 14 min on.");
});

test("hold-up: kinds on one another add up to all", () => {
  const picture = holdUpPicture(eight.result, eight.series);
  const last = (item: string): number => eight.series.holdUp.find((kind) => kind.item === item)?.level.at(-1) ?? NaN;
  expect(dataset(picture, "carton").data.at(-1)?.y).toBe(last("pouch") + last("carton"));
  expect(dataset(picture, "settled").data[0]?.y).toBe(eight.result.hold_up.settled);
  expect(picture.finding).toBe("Peak 600 items at 14.7 min; settled at 600 items.");
});

describe("time axis", () => {
  const end = (picture: Picture): number => JSON.parse(texts(picture).x).max;

  test("what only repeats is not shown at length", () => {
    const { result, series } = sample({ machines: 8, endMin: 240, samples: 2400 });
    const settling = { ...result.settling, time_min: 14.9, within_tolerance_min: 13 };
    const machines = result.machines.map((machine) => ({ ...machine, full_rate_from_min: 14.9 }));
    const picture = outputPicture({ ...result, horizon_min: 241, settling, machines }, series);
    expect(end(picture)).toBe(20);
    expect(texts(picture).x).toContain("repeats until the end, 4 h 1 min");
  });

  test("it reaches the settling and the peak", () => {
    const settling = { ...eight.result.settling, time_min: 19.8 };
    expect(end(outputPicture({ ...eight.result, settling }, eight.series))).toBeGreaterThanOrEqual(19.8);
    const peak = { ...eight.result.hold_up, peak_at_min: 19.9 };
    expect(end(holdUpPicture({ ...eight.result, hold_up: peak }, eight.series))).toBeGreaterThanOrEqual(19.9);
  });

  test("what is not proved is shown whole, in hours if there are more than five", () => {
    const { result, series } = sample({ machines: 8, endMin: 480 });
    const picture = outputPicture({ ...result, settling: { ...result.settling, proved: false } }, series);
    expect(end(picture)).toBe(8);
    expect(texts(picture).x).toContain('"hours"');
  });
});

describe("hostile names and sizes", () => {
  test("long ones are cut, none breaks a picture", async () => {
    const id = (i: number): string => `${"palletiser-".repeat(4)}\n<b>${i}`;
    for (const machines of [1, 8, 28, 120]) {
      const { result, series } = sample({ machines, id, samples: 60, title: `${"Long title ".repeat(40)}\u0000漢字` });
      for (const picture of pictures(result, series)) {
        expect([picture.config.options?.plugins?.title?.text].flat().length).toBeLessThanOrEqual(2);
        expect(picture.height).toBeLessThan(1800);
        expect((await paint(picture)).length).toBeGreaterThan(10_000);
      }
    }
  });

  test("no machines, no samples: still pictures", async () => {
    const { result, series } = sample({ machines: 0, samples: 1 });
    const empty = {
      ...series,
      timesMin: [],
      output: { perMin: [], movingAveragePerMin: [], averagedOverMin: 1 },
      holdUp: [],
    };
    for (const picture of pictures(result, empty)) expect((await paint(picture)).length).toBeGreaterThan(5_000);
  });
});

describe("the font", () => {
  // Figures and signs of arithmetic share one width in Source Sans 3, a letter with an accent has the letter's, and so
  // have, within 2 %, letters of other scripts that look the same. A sign from an installed font would have another.
  test.each([
    ["0", "123456789−×±+"],
    ["e", "éèëêěе"],
    ["o", "öőøоο"],
    ["a", "äàåāа"],
    ["z", "žż"],
  ])("as wide as %s: %s", async (model, signs) => {
    await paint(outputPicture(eight.result, eight.series));
    const ctx = createCanvas(10, 10).getContext("2d");
    for (const weight of [400, 600] as const) {
      ctx.font = font(1000, weight);
      const width = ctx.measureText(model).width;
      for (const sign of signs) expect(Math.abs(ctx.measureText(sign).width / width - 1), sign).toBeLessThan(0.02);
    }
  });

  test("text is never wider than the layout takes it for", () => {
    const ctx = createCanvas(10, 10).getContext("2d");
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(..."abcmwMWXÄéž0189 .,-–−·×±%@#&|_/()[]<>ЖшΩ…") }), (text) => {
        ctx.font = font(100, 600);
        expect(ctx.measureText(text).width).toBeLessThanOrEqual(textPixels(text, 100));
      }),
    );
  });
});
