/** Letters to be put in, taken out or changed to make one word of the other (Levenshtein's distance). */
function distance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, column) => column);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const changed = row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(changed, row[j]! + 1, next[j - 1]! + 1));
    }
    row = next;
  }
  return row[b.length]!;
}

/** Names longer than this are not compared: no key of a season is, and hostile text should cost nothing. */
const LONGEST = 60;

/** The known name that was probably meant, if one is near enough: at most a third of its letters differ. */
export function nearest(word: string, known: Iterable<string>): string | undefined {
  if (word.length > LONGEST) return undefined;
  let best: string | undefined, least = Infinity;
  for (const name of known) {
    const far = distance(word.toLowerCase(), name.toLowerCase());
    if (far < least && far <= Math.max(1, Math.floor(Math.max(word.length, name.length) / 3))) {
      best = name;
      least = far;
    }
  }
  return best;
}
