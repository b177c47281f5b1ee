import fc from "fast-check";
import { expect, test } from "vitest";
import { type Box, evenly, placeLabels } from "../../src/report/chart/place-labels.ts";
import { PointCounts } from "../../src/report/chart/point-counts.ts";

const AREA: Box = { left: 100, top: 140, width: 1000, height: 500 };

function overlap(a: Box, b: Box): boolean {
  return a.left < b.left + b.width && b.left < a.left + a.width && a.top < b.top + b.height && b.top < a.top + a.height;
}

test("a dozen labels stay in the plot and off one another, wherever their points lie", () => {
  const at = fc.record({ x: fc.constantFrom(100, 101, 400, 1100), y: fc.integer({ min: 140, max: 640 }) });
  fc.assert(
    fc.property(fc.array(fc.tuple(at, fc.integer({ min: 30, max: 230 })), { maxLength: 12 }), (wanted) => {
      const placed = placeLabels(
        wanted.map(([anchor, width]) => ({ anchors: [anchor], width, height: 30 })),
        AREA,
        wanted.map(([anchor]) => [anchor]),
      );
      for (const [i, { box }] of placed.entries()) {
        expect(box.left).toBeGreaterThanOrEqual(AREA.left);
        expect(box.top).toBeGreaterThanOrEqual(AREA.top);
        expect(box.left + box.width).toBeLessThanOrEqual(AREA.left + AREA.width);
        expect(box.top + box.height).toBeLessThanOrEqual(AREA.top + AREA.height);
        for (const other of placed.slice(i + 1)) expect(overlap(box, other.box)).toBe(false);
      }
    }),
    { numRuns: 60 },
  );
});

test("a line is named where it runs alone", () => {
  const shared = evenly([
    { x: 500, y: 300 },
    { x: 1000, y: 300 },
  ]);
  const alone = evenly([
    { x: 200, y: 600 },
    { x: 500, y: 300 },
  ]);
  const [place] = placeLabels([{ anchors: [...shared, ...alone], width: 90, height: 30 }], AREA, [
    [...alone, ...shared],
    shared,
  ]);
  expect(place?.anchor.x).toBeLessThan(495);
});

test("counts of points in boxes are those found one by one, to the grid of 4 pixels", () => {
  const cell = fc.integer({ min: 0, max: 24 });
  fc.assert(
    fc.property(fc.array(fc.tuple(cell, cell)), cell, cell, cell, cell, (cells, x1, x2, y1, y2) => {
      const points = cells.map(([x, y]) => ({ x: 4 * x + 1, y: 4 * y + 1 }));
      const [left = 0, right = 0] = [4 * x1, 4 * x2].sort((a, b) => a - b);
      const [top = 0, bottom = 0] = [4 * y1, 4 * y2].sort((a, b) => a - b);
      const within = points.filter(({ x, y }) => x > left && x < right && y > top && y < bottom);
      expect(new PointCounts(points, 100, 100).within(left, top, right, bottom)).toBe(within.length);
    }),
  );
});

test("points along a line lie evenly, across its corners", () => {
  const points = evenly(
    [
      { x: 0, y: 0 },
      { x: 10, y: 0 },
      { x: 10, y: 10 },
    ],
    4,
  );
  expect(points).toEqual([
    { x: 0, y: 0 },
    { x: 4, y: 0 },
    { x: 8, y: 0 },
    { x: 10, y: 2 },
    { x: 10, y: 6 },
    { x: 10, y: 10 },
  ]);
});
