/** Our PNG encoder, held to the canvas library's decoder, which is Skia's. */
import { createCanvas, loadImage } from "@napi-rs/canvas";
import fc from "fast-check";
import { expect, test } from "vitest";
import { encoded } from "../../src/report/chart/encoded.ts";

test("an opaque picture of any size comes back pixel by pixel", async () => {
  const side = fc.integer({ min: 1, max: 40 });
  const pictures = fc
    .tuple(side, side)
    .chain(([width, height]) =>
      fc
        .uint8Array({ minLength: 4 * width * height, maxLength: 4 * width * height })
        .map((bytes) => ({ width, height, pixels: Buffer.from(bytes.map((byte, i) => (i % 4 === 3 ? 255 : byte))) })),
    );
  await fc.assert(
    fc.asyncProperty(pictures, async ({ width, height, pixels }) => {
      const context = createCanvas(width, height).getContext("2d");
      context.drawImage(await loadImage(await encoded(pixels, width, height)), 0, 0);
      expect(Buffer.from(context.getImageData(0, 0, width, height).data)).toEqual(pixels);
    }),
    { numRuns: 50 },
  );
});
