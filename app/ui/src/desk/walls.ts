// Moving walls: what a text says of the rooms beside a wall, and how that changes
// when the wall is moved. Sizes are post centre to post centre, as the text has them.
import { isScalar, isSeq } from "yaml";
import { show, type Units } from "../lengths";
import type { Bay, Document as Plan } from "../made/answers";
import { findRoom, owned, peek, set, setRoom, value, type RoomAt } from "./edits";
import { parsed, written } from "./grid";

type Path = (string | number)[];

/** Size is one length of the text that shows on the drawing. */
export interface Size {
  /** unlike any other's */
  key: string;
  label: string;
  nm: number;
  /** posts or corners it stands between */
  from: string;
  to: string;
  along: boolean;
  put: (text: string, nm: number) => string | undefined;
}

/** Handle is how a wall can be moved. */
export interface Handle {
  /** x: it moves along the row; y: across it. */
  axis: "x" | "y";
  /** what comes of moving it so far, in nanometres of the plan's own axes */
  move: (text: string, by: number) => string | undefined;
  sizes: (by: number) => string;
}

/** spacings are a barn's post spacings, one for each, as written. */
function spacings(text: string, path: Path, count: number, units: Units): number[] {
  const node = peek(text)?.getIn([...path, "spacing"], true);
  const one = (v: unknown): number => parsed(String(isScalar(v) ? v.value : v), units) ?? 0;
  if (isSeq(node)) return node.items.map(one);
  return Array<number>(count).fill(one(node));
}

function putSpacings(text: string, path: Path, list: number[], units: Units): string | undefined {
  if (list.some((v) => v <= 0)) return undefined;
  const alike = list.every((v) => v === list[0]);
  return set(text, [...path, "spacing"], alike ? written(list[0]!, units) : list.map((v) => written(v, units)));
}

/** spansOf are how many spacings each room of a list takes. */
function spansOf(text: string, list: Path): number[] {
  const node = peek(text)?.getIn(list, true);
  if (!isSeq(node)) return [];
  return node.items.map((_, i) => Number(value(text, [...list, i, "spans"]) ?? 1) || 1);
}

const sum = (list: number[]): number => list.reduce((a, b) => a + b, 0);

/** handle says how the wall of a bay can be moved; nothing where it cannot. */
export function handle(text: string, d: Plan, bay: Bay): Handle | undefined {
  const run = d.runs?.find((r) => r.name === bay.run);
  const posts = new Map((d.posts ?? []).map((p) => [p.name, p]));
  const a = run && posts.get(run.from);
  const b = run && posts.get(run.to);
  if (!run || !a || !b) return undefined;
  const units = d.job.units as Units;
  const beside = (d.rooms ?? []).filter((r) => r.runs?.includes(run.name));
  const lies = Math.abs(a.x_nm - b.x_nm) > Math.abs(a.y_nm - b.y_nm);
  const middle = (name: string): { x: number; y: number } => {
    const corners = (d.rooms ?? []).find((r) => r.name === name)?.corners ?? [];
    const at = corners.flatMap((c) => posts.get(c) ?? []);
    return { x: sum(at.map((p) => p.x_nm)) / (at.length || 1), y: sum(at.map((p) => p.y_nm)) / (at.length || 1) };
  };
  const room = beside[0];
  const where = room && findRoom(text, d, room.name);
  if (!room || !where || !["barn-row", "free-row", "free-barn"].includes(where.structure.kind)) return undefined;
  if (lies) {
    // A wall along the row: the depth of the stalls beside it.
    const depth = parsed(value(text, [...where.structure.path, "depth"]) ?? "", units);
    if (depth === undefined || beside.length !== 1) return undefined;
    const out = a.y_nm > middle(room.name).y ? 1 : -1;
    return {
      axis: "y",
      move: (t, by) => (depth + out * by > 0 ? set(t, [...where.structure.path, "depth"], written(depth + out * by, units)) : undefined),
      sizes: (by) => `depth ${show(depth + out * by, units)}`,
    };
  }
  const left = [...beside].sort((r, s) => middle(r.name).x - middle(s.name).x);
  if (where.structure.kind === "barn-row") return acrossBarn(text, d, where, left.map((r) => r.name), a.x_nm, units, middle);
  return acrossRow(text, d, left.map((r) => r.name), a.x_nm, units, middle);
}

/** acrossBarn moves the line of posts that a wall across a barn stands on. */
function acrossBarn(text: string, d: Plan, at: RoomAt, rooms: string[], x: number, units: Units, middle: (n: string) => { x: number; y: number }): Handle | undefined {
  const spans = spansOf(text, [...at.structure.path, "rooms"]);
  const list = spacings(text, at.structure.path, sum(spans), units);
  if (list.length !== sum(spans) || list.some((v) => v <= 0)) return undefined;
  // Which line of posts it stands on, counted in the plan's own direction.
  const first = owned(d, at.structure.name).slice(0, spans.length);
  const rightward = first.length < 2 || middle(first[0]!.name).x < middle(first[first.length - 1]!.name).x;
  const start = Math.min(...(d.posts ?? []).filter((p) => p.structure === at.structure.name).map((p) => p.x_nm));
  const inPlan = rightward ? list : [...list].reverse();
  let line = 0;
  let best = Infinity;
  for (let i = 0, at = start; i <= inPlan.length; at += inPlan[i] ?? 0, i++) {
    if (Math.abs(at - x) < best) {
      best = Math.abs(at - x);
      line = i;
    }
  }
  const after = (by: number): number[] => inPlan.map((v, i) => (i === line - 1 ? v + by : i === line ? v - by : v));
  const ends = line === 0 || line === inPlan.length;
  const moved = (by: number): number[] => (line === inPlan.length ? inPlan.map((v, i) => (i === line - 1 ? v + by : v)) : line === 0 ? inPlan.map((v, i) => (i === 0 ? v - by : v)) : after(by));
  if (!rooms.length) return undefined;
  return {
    axis: "x",
    move: (t, by) => putSpacings(t, at.structure.path, rightward ? moved(by) : moved(by).reverse(), units),
    sizes: (by) => {
      const v = moved(by);
      return ends ? show(v[line === 0 ? 0 : line - 1]!, units) : `${show(v[line - 1]!, units)} | ${show(v[line]!, units)}`;
    },
  };
}

/** acrossRow moves a wall between two rooms of a free-standing row, or its end. */
function acrossRow(text: string, d: Plan, rooms: string[], x: number, units: Units, middle: (n: string) => { x: number; y: number }): Handle | undefined {
  const wide = (n: string): number => (d.rooms ?? []).find((r) => r.name === n)?.width_nm ?? 0;
  const at = rooms.map((n) => ({ n, at: findRoom(text, d, n), sign: middle(n).x < x ? 1 : -1 }));
  if (at.some((r) => !r.at || !wide(r.n)) || at.length > 2) return undefined;
  return {
    axis: "x",
    move: (t, by) => {
      let out: string | undefined = t;
      for (const r of at) {
        const to = wide(r.n) + r.sign * by;
        out = out !== undefined && to > 0 ? setRoom(out, r.at!, "width", written(to, units)) : undefined;
      }
      return out;
    },
    sizes: (by) => at.map((r) => show(wide(r.n) + r.sign * by, units)).join(" | "),
  };
}

/** alike is how far posts of one line may stand off it: 0.3 m, in nanometres. */
const alike = 3e8;

/** sizes are the lengths of rows that stand on the drawing and can be typed there. */
export function sizes(text: string, d: Plan): Size[] {
  const units = d.job.units as Units;
  const out: Size[] = [];
  const posts = new Map((d.posts ?? []).map((p) => [p.name, p]));
  const y = (n: string): number => posts.get(n)?.y_nm ?? 0;
  const x = (n: string): number => posts.get(n)?.x_nm ?? 0;
  const seen = new Set<string>();
  for (const s of new Set((d.posts ?? []).map((p) => p.structure))) {
    const rooms = owned(d, s);
    const low = rooms.length ? Math.min(...rooms.map((r) => bottom(d, r.corners))) : 0;
    for (const r of rooms) {
      const at = findRoom(text, d, r.name);
      if (!at) continue;
      // Its lower two corners, and of the upper ones that at the left.
      const byHeight = [...(r.corners ?? [])].sort((a, b) => y(a) - y(b));
      const [left = "", right = ""] = byHeight.slice(0, 2).sort((a, b) => x(a) - x(b));
      const top = byHeight.slice(2).sort((a, b) => x(a) - x(b))[0] ?? left;
      const key = `${s} ${r.name}`;
      if (Math.abs(bottom(d, r.corners) - low) < alike) {
        out.push({ key: key + " width", label: `Width of ${r.name}`, nm: r.width_nm, from: left, to: right, along: true, put: (t, nm) => putWidth(t, d, at, nm, r.width_nm, units) });
      }
      if (!seen.has(s)) {
        seen.add(s);
        out.push({ key: key + " depth", label: `Depth of ${s}`, nm: r.depth_nm, from: left, to: top, along: false, put: (t, nm) => (nm > 0 ? set(t, [...at.structure.path, "depth"], written(nm, units)) : undefined) });
      }
    }
  }
  return out;
}

function bottom(d: Plan, corners: string[] | null): number {
  const posts = new Map((d.posts ?? []).map((p) => [p.name, p.y_nm]));
  return Math.min(...(corners ?? []).map((c) => posts.get(c) ?? 0));
}

/** putWidth makes a room so wide, centre to centre. In a barn it is its last post
 * spacing that gives or takes. */
function putWidth(text: string, d: Plan, at: RoomAt, nm: number, had: number, units: Units): string | undefined {
  if (nm <= 0) return undefined;
  if (at.structure.kind !== "barn-row") return setRoom(text, at, "width", written(nm, units));
  const spans = spansOf(text, [...at.structure.path, "rooms"]);
  const list = spacings(text, at.structure.path, sum(spans), units);
  if (list.length !== sum(spans)) return undefined;
  let last = sum(spansOf(text, at.list).slice(0, at.index + 1)) - 1;
  if (at.list[at.list.length - 1] === "second") last = list.length - 1 - last;
  void d;
  return putSpacings(text, at.structure.path, list.map((v, i) => (i === last ? v + nm - had : v)), units);
}
