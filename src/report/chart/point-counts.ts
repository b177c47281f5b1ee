/** How many of many points lie in a box, from sums over a grid. */
export interface Pixel {
  readonly x: number;
  readonly y: number;
}

/** Pixels; boxes are counted to the grid. */
const CELL = 4;

export class PointCounts {
  readonly #columns: number;
  readonly #rows: number;
  /** Of all points above and to the left of each corner of the grid. */
  readonly #sums: Int32Array;

  /** @param points those outside 0 to `width` and 0 to `height` are left out */
  constructor(points: Iterable<Pixel>, width: number, height: number) {
    this.#columns = Math.ceil(width / CELL) + 1;
    this.#rows = Math.ceil(height / CELL) + 1;
    const stride = this.#columns + 1;
    const sums = new Int32Array(stride * (this.#rows + 1));
    for (const { x, y } of points) {
      const column = Math.floor(x / CELL);
      const row = Math.floor(y / CELL);
      if (column < 0 || row < 0 || column >= this.#columns || row >= this.#rows) continue;
      const at = (row + 1) * stride + column + 1;
      sums[at] = (sums[at] ?? 0) + 1;
    }
    for (let row = 1; row <= this.#rows; row++) {
      let inRow = 0;
      for (let column = 1; column <= this.#columns; column++) {
        const at = row * stride + column;
        inRow += sums[at] ?? 0;
        sums[at] = inRow + (sums[at - stride] ?? 0);
      }
    }
    this.#sums = sums;
  }

  within(left: number, top: number, right: number, bottom: number): number {
    const x = this.#corner(left, this.#columns);
    const y = this.#corner(top, this.#rows);
    const endX = this.#corner(right, this.#columns);
    const endY = this.#corner(bottom, this.#rows);
    return this.#sum(endX, endY) - this.#sum(x, endY) - this.#sum(endX, y) + this.#sum(x, y);
  }

  #corner(at: number, most: number): number {
    return Math.max(0, Math.min(most, Math.round(at / CELL)));
  }

  #sum(column: number, row: number): number {
    return this.#sums[row * (this.#columns + 1) + column] ?? 0;
  }
}
