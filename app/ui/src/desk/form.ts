// The form of a text: what its writer did with spaces, comments and blank lines.
// The library that edits a text writes it anew in a form of its own; here only the
// lines that an edit changes are taken over, so that two people's edits of one
// text can be joined line by line, and comments stay where they were put.

/** inForm takes over into text what changed from before to after; both are as the
 * library writes them, before without the edit. It gives undefined where that does
 * not work out. */
export function inForm(text: string, before: string, after: string): string | undefined {
  const [t, b, a] = [text.split("\n"), before.split("\n"), after.split("\n")];
  const ofText = pairs(b.map(bare), t.map(bare)); // for each line of before, the same of the text
  const ofAfter = pairs(b, a);
  const out: string[] = [];
  let [done, i, j] = [0, 0, 0]; // lines of the text taken over; where before and after are
  while (i < b.length || j < a.length) {
    if (i < b.length && ofAfter[i] === j) {
      [i, j] = [i + 1, j + 1];
      continue;
    }
    // From here on they differ, up to the next line that is in both.
    let [to, upTo] = [i, a.length];
    while (to < b.length && ofAfter[to] === undefined) to++;
    if (to < b.length) upTo = ofAfter[to]!;
    // The lines round it must be found in the text; what lies between is written anew.
    let [from, begin] = [i, j];
    while (from > 0 && ofText[from - 1] === undefined) [from, begin] = [from - 1, begin - 1];
    while (to < b.length && (ofText[to] === undefined || ofAfter[to] === undefined)) {
      to++;
      upTo = to < b.length ? (ofAfter[to] ?? upTo) : a.length;
    }
    const first = from > 0 ? ofText[from - 1]! + 1 : 0;
    const end = to < b.length ? ofText[to]! : t.length;
    if (first < done || end < first || begin < 0) return undefined;
    out.push(...t.slice(done, first), ...a.slice(begin, upTo));
    [done, i, j] = [end, to, upTo];
  }
  out.push(...t.slice(done));
  return out.join("\n");
}

/** bare is a line without what a form is. */
const bare = (line: string): string => line.replace(/\s+/g, " ").trim();

/** pairs finds, for each line of one list, the same line of another, in order: the
 * longest common subsequence. */
function pairs(one: string[], two: string[]): (number | undefined)[] {
  const out: (number | undefined)[] = new Array(one.length).fill(undefined);
  let from = 0;
  while (from < one.length && from < two.length && one[from] === two[from]) out[from] = from++;
  let [m, n] = [one.length, two.length];
  while (m > from && n > from && one[m - 1] === two[n - 1]) out[--m] = --n;
  const wide = n - from + 1;
  const best = new Uint32Array((m - from + 1) * wide);
  for (let i = m - 1; i >= from; i--) {
    for (let j = n - 1; j >= from; j--) {
      const at = (i - from) * wide + (j - from);
      best[at] = one[i] === two[j] ? best[at + wide + 1]! + 1 : Math.max(best[at + wide]!, best[at + 1]!);
    }
  }
  for (let i = from, j = from; i < m && j < n; ) {
    const at = (i - from) * wide + (j - from);
    if (one[i] === two[j]) out[i++] = j++;
    else if (best[at + wide]! >= best[at + 1]!) i++;
    else j++;
  }
  return out;
}
