/** The runs of a study, one after the other. */

/**
 * @param of how many
 * @param onProgress is told before each
 * @returns what `play` gives, by place
 */
export function oneAfterAnother<Played>(
  of: number,
  play: (place: number) => Played,
  onProgress: ((done: number, of: number) => void) | undefined,
): Played[] {
  return Array.from({ length: of }, (_, place) => {
    onProgress?.(place, of);
    return play(place);
  });
}
