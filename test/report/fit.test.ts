/** Reports of fits: findings by code, files, pictures by what they are made of. */
import { expect, test } from "vitest";
import { fitFiles } from "../../src/report/files/fit-files.ts";
import { fitFindings } from "../../src/report/fit/fit-findings.ts";
import { fitCsv, fitText } from "../../src/report/fit/fit-report.ts";
import { isFileOf, REPORT_KINDS } from "../../src/report/folder/report-files.ts";
import { fitPictures } from "../../src/report/pictures.ts";
import type { Fit, FitCurves, FittedUnknown } from "../../src/study/fit/fit-results.ts";

const RATE: FittedUnknown = {
  path: "feeds.silo.rate",
  unit: "/min",
  lower: 100,
  upper: 300,
  own: 200,
  value: 217.25,
  text: "217.25/min",
  standard_error: 0.5,
  range_95: [216.2, 218.4],
  told: "pinned",
  with: [],
  profile: [
    { value: 215, chi_square: 60 },
    { value: 217.25, chi_square: 50 },
    { value: 219, chi_square: 61 },
  ],
};
const ROOM: FittedUnknown = {
  ...RATE,
  path: "machines.filler.infeed",
  unit: "",
  lower: 20,
  upper: 90,
  own: null,
  value: 44,
  text: "44",
  range_95: [44, 44],
};

function sample(change: Partial<Fit> = {}): Fit {
  return {
    title: "Eight fillers (invented)",
    seed: "1",
    tick_s: "1/10",
    unknowns: [RATE, ROOM],
    correlations: [
      [1, 0.3],
      [0.3, 1],
    ],
    chi_square: 2.25,
    degrees_of_freedom: 3,
    reduced: 0.75,
    widened_by: 1,
    fits: true,
    starts: 2,
    agreeing: 2,
    runs: 600,
    times_min: [1, 2, 3.5],
    series: [
      { name: "made", error: 1, observed: [20, null, 80], fitted: [21, 45, 79.5] },
      { name: "filler-2.infeed", error: 2, observed: [0, 12, 44], fitted: [0, 12, 42] },
    ],
    ...change,
  };
}

const CURVES: FitCurves = {
  timesMin: [0, 1.75, 3.5],
  series: [
    [0, 40, 79.5],
    [0, 8, 42],
  ],
};

const codes = (change: Partial<Fit>): string[] => fitFindings(sample(change)).map(({ code }) => code);
const unknowns = (...changes: Partial<FittedUnknown>[]): Pick<Fit, "unknowns"> => ({
  unknowns: changes.map((change, i) => ({ ...(i === 0 ? RATE : ROOM), ...change })),
});

test("what is found, by code", () => {
  expect(codes({})).toEqual(["pinned", "pinned", "fits"]);
  expect(codes({ fits: false, reduced: 9, widened_by: 3 })).toEqual(["pinned", "pinned", "misfit"]);
  expect(codes({ reduced: null, degrees_of_freedom: 0 })).toEqual(["pinned", "pinned", "no-freedom"]);
  expect(codes({ agreeing: 1 })).toEqual(["pinned", "pinned", "fits", "starts"]);
  expect(codes(unknowns({ told: "one-sided", range_95: [216, null] }))).toEqual(["one-sided", "fits"]);
  expect(codes(unknowns({ told: "alone-no-matter" }, { told: "untold" }))).toEqual([
    "alone-no-matter",
    "untold",
    "fits",
  ]);
  expect(codes(unknowns({ value: 300 }))).toEqual(["pinned", "at-bound", "fits"]);
  expect(
    codes({
      correlations: [
        [1, -0.97],
        [-0.97, 1],
      ],
    }),
  ).toEqual(["pinned", "pinned", "together", "fits"]);
});

test("a combination is told of once, with all that are in it", () => {
  const both = unknowns({ told: "combination", with: [ROOM.path] }, { told: "combination", with: [RATE.path] });
  const found = fitFindings(sample(both)).filter(({ code }) => code === "combination");
  expect(found).toHaveLength(1);
  expect(found[0]?.text).toContain("feeds.silo.rate and machines.filler.infeed");
});

test("values have as many decimals as their ranges give them a meaning for", () => {
  const text = fitText(sample());
  const said = text.replace(/\s+/g, " ");
  expect(said).toContain("feeds.silo.rate is 217.3/min: from 216.2/min to 218.4/min (95 %) ");
  expect(said).toContain("machines.filler.infeed is 44: the whole numbers next to it fit worse (95 %) ");
  expect(text.split("\n").every((line) => line.length <= 80)).toBe(true);
});

test("a row for each count", () => {
  expect(fitCsv(sample()).split("\r\n")).toEqual([
    "time_min,observed,count_items,fitted_items,residual_items,expected_error_items",
    "1,made,20,21,-1,1",
    "3.5,made,80,79.5,0.5,1",
    "1,filler-2.infeed,0,0,0,2",
    "2,filler-2.infeed,12,12,0,2",
    "3.5,filler-2.infeed,44,42,2,2",
    "",
  ]);
});

test("all files are those of a fit's report", async () => {
  const kind = REPORT_KINDS.find(({ marker }) => marker === "fit.json");
  const files = await fitFiles({ fit: sample(), curves: CURVES, scenario: "title: x\n" }, { charts: true });
  expect([...files.keys()].filter((name) => kind === undefined || !isFileOf(kind, name))).toEqual([]);
  expect(kind?.keys.every((key) => key in sample())).toBe(true);
  expect(files.get("fitted.yaml")).toBe("title: x\n");
  const text = String(files.get("report.md"));
  for (const name of files.keys()) if (name.endsWith(".png")) expect(text).toContain(`](${name})`);
});

test("pictures: counts on curves, levels, residuals over their errors, a profile each", () => {
  const pictures = fitPictures(sample(), CURVES);
  expect(pictures.map(({ file }) => file)).toEqual([
    "made.png",
    "levels.png",
    "residuals.png",
    "profile-1.png",
    "profile-2.png",
  ]);
  const data = (picture: number, label: string) =>
    pictures[picture]?.config.data.datasets.find((dataset) => dataset.label === label)?.data;
  expect(data(0, "made, observed")).toEqual([
    { x: 1, y: 20 },
    { x: 3.5, y: 80 },
  ]);
  expect(data(1, "filler-2.infeed")).toEqual(CURVES.timesMin.map((x, n) => ({ x, y: CURVES.series[1]?.[n] })));
  expect(data(2, "filler-2.infeed")).toEqual([
    { x: 1, y: 0 },
    { x: 2, y: 0 },
    { x: 3.5, y: 1 },
  ]);
  expect(data(3, "profile")?.map(({ x }) => x)).toEqual([215, 217.25, 219]);
  expect(pictures.map(({ finding }) => finding).filter((finding) => finding === "")).toEqual([]);
});

test("without levels there is no picture of them", () => {
  const [made] = sample().series;
  const alone = sample({ series: made === undefined ? [] : [made] });
  expect(fitPictures(alone, { ...CURVES, series: CURVES.series.slice(0, 1) }).map(({ file }) => file)).not.toContain(
    "levels.png",
  );
});
