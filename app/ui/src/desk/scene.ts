// What the plan drawing shows, worked out from the plan: everything in metres, x
// to the right and y down the screen.
import type { Bay, Document, Run } from "../made/answers";

export interface Spot {
  x: number;
  y: number;
}

export interface BayLine {
  bay: Bay;
  run: Run;
  from: Spot;
  to: Spot;
}

const M = 1e9;

/** Spots say where posts stand on the drawing. Each structure counts from a zero of
 * its own; the drawing sets them side by side, or one under the other where that
 * shows them larger in a frame so many times as wide as high. */
export type Spots = Map<string, Spot>;

const apart = 3;

export function spots(d: Document, wide = 2): Spots {
  const each = (d.structures ?? []).flatMap((s) => {
    const at = (d.posts ?? []).filter((p) => p.structure === s.name).map((p) => ({ name: p.name, x: p.x_nm / M, y: -p.y_nm / M }));
    if (!at.length) return [];
    const left = Math.min(...at.map((p) => p.x));
    const top = Math.min(...at.map((p) => p.y));
    return [{ at: at.map((p) => ({ name: p.name, x: p.x - left, y: p.y - top })), width: Math.max(...at.map((p) => p.x)) - left, height: Math.max(...at.map((p) => p.y)) - top }];
  });
  const all = (of: (v: { width: number; height: number }) => number): number => each.reduce((n, v) => n + of(v) + apart, -apart);
  const most = (of: (v: { width: number; height: number }) => number): number => Math.max(0, ...each.map(of));
  const across = Math.max(all((v) => v.width) / wide, most((v) => v.height));
  const down = Math.max(most((v) => v.width) / wide, all((v) => v.height));
  const out: Spots = new Map();
  let x = 0;
  let y = 0;
  for (const v of each) {
    const up = down < across ? 0 : most((w) => w.height) - v.height;
    for (const p of v.at) out.set(p.name, { x: p.x + x, y: p.y + y + up });
    if (down < across) y += v.height + apart;
    else x += v.width + apart;
  }
  return out;
}

/** bayLines are the bays as lines in plan. A framed run's bays follow one another
 * from its left post: panel, doorway, panel. */
export function bayLines(d: Document, at: Spots): BayLine[] {
  const bays = new Map((d.bays ?? []).map((b) => [b.name, b]));
  const out: BayLine[] = [];
  for (const run of d.runs ?? []) {
    const names = [run.from, ...(run.door_posts ?? []), run.to];
    const stops = names.flatMap((n) => {
      const s = at.get(n);
      return s ? [s] : [];
    });
    const list = (run.bays ?? []).flatMap((n) => {
      const b = bays.get(n);
      return b ? [b] : [];
    });
    if (stops.length < 2) continue;
    const first = stops[0]!;
    const last = stops[stops.length - 1]!;
    list.forEach((bay, i) => {
      const even = (n: number): Spot => ({ x: first.x + ((last.x - first.x) * n) / list.length, y: first.y + ((last.y - first.y) * n) / list.length });
      const fits = stops.length === list.length + 1;
      out.push({ bay, run, from: fits ? stops[i]! : even(i), to: fits ? stops[i + 1]! : even(i + 1) });
    });
  }
  return out;
}

export interface Box {
  left: number;
  top: number;
  width: number;
  height: number;
}

export function around(at: Spots): Box {
  const all = [...at.values()];
  if (!all.length) return { left: 0, top: 0, width: 10, height: 10 };
  const left = Math.min(...all.map((s) => s.x)) - 1.2;
  const top = Math.min(...all.map((s) => s.y)) - 1.2;
  return { left, top, width: Math.max(...all.map((s) => s.x)) + 1.2 - left, height: Math.max(...all.map((s) => s.y)) + 1.2 - top };
}
