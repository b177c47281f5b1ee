/** The known name that a mistyped one most likely meant. */

/** Longer lists are searched only this far: a suggestion is a courtesy, not worth a second of anyone's time. */
const CANDIDATES_SEARCHED = 2_000;

/** @returns the closest candidate within about a third of the name's length, the first of equals, or "" */
export function nearest(name: string, candidates: Iterable<string>): string {
  const wanted = name.toLowerCase();
  let best = "";
  let bestDistance = Math.floor(Math.max(3, Math.min(wanted.length, 40)) / 3) + 1;
  let searched = 0;
  for (const candidate of candidates) {
    if (++searched > CANDIDATES_SEARCHED) break;
    if (Math.abs(candidate.length - name.length) >= bestDistance) continue;
    const distance = editDistance(wanted, candidate.toLowerCase());
    if (distance < bestDistance) {
      best = candidate;
      bestDistance = distance;
    }
  }
  return best;
}

/** Insertions, deletions, replacements, and swaps of neighbours (optimal string alignment). */
export function editDistance(a: string, b: string): number {
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const replaced = at(last, j - 1) + (a[i - 1] === b[j - 1] ? 0 : 1);
      let distance = Math.min(at(last, j) + 1, at(row, j - 1) + 1, replaced);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        distance = Math.min(distance, at(beforeLast, j - 2) + 1);
      }
      row.push(distance);
    }
    beforeLast = last;
    last = row;
  }
  return at(last, b.length);
}

function at(row: readonly number[], index: number): number {
  return row[index] ?? Number.POSITIVE_INFINITY;
}
