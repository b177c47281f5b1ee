/** The level of one infeed buffer over time, as the pictures show it. */
export interface BufferCurve {
  readonly name: string;
  readonly capacity: number;
  /** Items at the end of each sample. */
  readonly level: readonly number[];
  readonly fullAtMin: number | null;
}
