import { expect, test } from "vitest";
import { duration, items, listedShort, percent, percentCell, plain, rate } from "../../src/report/text/figures.ts";

test.each([
  [0, "0 min"],
  [1 / 600, "0.1 s"],
  [1 / 15, "4 s"],
  [0.2, "12 s"],
  [0.9999, "1 min"],
  [14.9, "14.9 min"],
  [15.04, "15 min"],
  [99.94, "99.9 min"],
  [99.97, "1 h 40 min"],
  [114, "1 h 54 min"],
  [119.7, "2 h"],
  [6005, "100 h"],
])("%d minutes read %s", (minutes, text) => {
  expect(plain(duration(minutes))).toBe(text);
});

test("counts and rates carry no digit that means nothing", () => {
  expect(plain(items(604.4))).toBe("604 items");
  expect(plain(items(1))).toBe("1 item");
  expect(plain(items(57012))).toBe("57 012 items");
  expect(plain(items(1500))).toBe("1500 items");
  expect(rate(240)).toBe("240/min");
  expect(rate(45 / 4)).toBe("11.25/min");
  expect(rate(2 / 3)).toBe("0.6667/min");
  expect(rate(0.00123)).toBe("0.00123/min");
});

test("a share short of all is never shown as all", () => {
  expect(plain(percent(0.9999))).toBe("99.9 %");
  expect(plain(percent(1))).toBe("100 %");
  expect(plain(percent(0.0001))).toBe("0.1 %");
  expect(percentCell(0.99)).toBe("99.0");
  expect(percentCell(0)).toBe("0");
});

test("long lists name the first few", () => {
  expect(listedShort(["a", "b", "c"])).toBe("a, b and c");
  expect(listedShort(["a", "b", "c", "d", "e", "f"])).toBe("a, b, c, d and 2 more");
});
