/** Pictures among the files of a report. */
import type { PictureLink } from "../text/markdown-text.ts";

type Painting = typeof import("../pictures.ts");

/**
 * Paints pictures into the files; without charts there are none.
 * @returns their links, for the report's text
 */
export async function paintInto(
  files: Map<string, string | Uint8Array>,
  charts: boolean,
  picturesOf: (painting: Painting) => ReturnType<Painting["pictures"]>,
): Promise<readonly PictureLink[]> {
  if (!charts) return [];
  const painting = await import("../pictures.ts");
  const pictures = picturesOf(painting);
  const painted = await Promise.all(
    pictures.map(async (picture) => [picture.file, await painting.paint(picture)] as const),
  );
  for (const [file, png] of painted) files.set(file, png);
  return pictures;
}
