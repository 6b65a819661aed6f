// What differs between two texts, line by line.

export interface Line {
  mark: " " | "+" | "-" | "…";
  text: string;
}

/** around is how many lines that are alike stand before and after what differs. */
const around = 3;

/** difference is the shortest list of lines to take out and put in (the longest
 * common subsequence), with a few lines around each place. */
export function difference(before: string, after: string): Line[] {
  const a = before.split("\n");
  const b = after.split("\n");
  let head = 0;
  while (head < a.length && head < b.length && a[head] === b[head]) head++;
  let tail = 0;
  while (tail < a.length - head && tail < b.length - head && a[a.length - 1 - tail] === b[b.length - 1 - tail]) tail++;
  const all: Line[] = [
    ...a.slice(0, head).map((text): Line => ({ mark: " ", text })),
    ...middle(a.slice(head, a.length - tail), b.slice(head, b.length - tail)),
    ...a.slice(a.length - tail).map((text): Line => ({ mark: " ", text })),
  ];
  return shortened(all);
}

/** most bounds the table; beyond it everything is taken out and put in. */
const most = 4_000_000;

function middle(a: string[], b: string[]): Line[] {
  const out = (mark: "+" | "-", list: string[]): Line[] => list.map((text) => ({ mark, text }));
  if (a.length * b.length > most) return [...out("-", a), ...out("+", b)];
  const wide = b.length + 1;
  const common = new Uint32Array((a.length + 1) * wide);
  for (let i = a.length - 1; i >= 0; i--) {
    for (let j = b.length - 1; j >= 0; j--) {
      common[i * wide + j] = a[i] === b[j] ? common[(i + 1) * wide + j + 1]! + 1 : Math.max(common[(i + 1) * wide + j]!, common[i * wide + j + 1]!);
    }
  }
  const lines: Line[] = [];
  let i = 0;
  let j = 0;
  while (i < a.length && j < b.length) {
    if (a[i] === b[j]) {
      lines.push({ mark: " ", text: a[i]! });
      i++;
      j++;
    } else if (common[(i + 1) * wide + j]! >= common[i * wide + j + 1]!) lines.push({ mark: "-", text: a[i++]! });
    else lines.push({ mark: "+", text: b[j++]! });
  }
  return [...lines, ...out("-", a.slice(i)), ...out("+", b.slice(j))];
}

function shortened(all: Line[]): Line[] {
  const near = new Uint8Array(all.length);
  all.forEach((l, i) => {
    if (l.mark === " ") return;
    for (let k = Math.max(0, i - around); k <= Math.min(all.length - 1, i + around); k++) near[k] = 1;
  });
  const out: Line[] = [];
  all.forEach((l, i) => {
    if (near[i]) out.push(l);
    else if (out[out.length - 1]?.mark !== "…") out.push({ mark: "…", text: "" });
  });
  return out;
}
