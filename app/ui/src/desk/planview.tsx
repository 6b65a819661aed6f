// The plan as something to work on. It moves with wheel, drag or pinch. Bays, posts,
// rooms and sizes are buttons; from the keyboard the arrows go from one to the next
// and letters fill a bay.
import type { JSX } from "preact";
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { show, type Units } from "../lengths";
import type { Document, Post } from "../made/answers";
import type { Work } from "../work";
import { movePost, offsetOf, shiftFormPost } from "./edits";
import { grids, parsed, snap, written } from "./grid";
import { useKeys, type Spot as Place } from "./keys";
import { BayMark, legible, PostMark, RoomMark, SizeMark } from "./marks";
import { around, bayLines, spots, type Box, type Spot } from "./scene";
import { handle, sizes, type Handle, type Size } from "./walls";

interface Props {
  work: Work;
  document: Document;
  at: string;
  choose: (name: string) => void;
  /** do is a letter that was typed on something of the drawing. */
  act: (key: string, name: string) => boolean;
  /** enter goes to what can be done with what is chosen. */
  enter: () => void;
}

/** Drag is a post or a wall on its way. */
interface Drag {
  name: string;
  x: number; // of the pointer, where it began
  y: number;
  dx: number; // in metres of the drawing
  dy: number;
  post?: Post;
  wall?: Handle;
  line?: { from: Spot; to: Spot };
}

/** far is how many pixels a finger must move before it drags. */
const far = 5;

export function PlanView({ work, document: d, at, choose, act, enter }: Props): JSX.Element {
  const units = d.job.units as Units;
  const [frame, setFrame] = useState({ width: 800, height: 500 });
  const places = useMemo(() => spots(d, frame.width / frame.height), [d, Math.round((2 * frame.width) / frame.height)]);
  const whole = useMemo(() => around(places), [places]);
  const lines = useMemo(() => bayLines(d, places), [d, places]);
  const typed = useMemo(() => sizes(work.job.text, d), [d]);
  const [view, setView] = useState<Box | undefined>();
  const [drag, setDrag] = useState<Drag | undefined>();
  const [grid, setGrid] = useState(0);
  const [typing, setTyping] = useState<Size | undefined>();
  const [told, setTold] = useState("");
  const svg = useRef<SVGSVGElement>(null);
  const pan = useRef<{ x: number; y: number; box: Box; moved: boolean } | undefined>(undefined);
  const fingers = useRef(new Map<number, { x: number; y: number }>());
  const box = view ?? whole;
  const step = grids(units)[grid]!;

  useEffect(() => {
    const sizes = new ResizeObserver(([e]) => e && setFrame({ width: e.contentRect.width || 800, height: e.contentRect.height || 500 }));
    if (svg.current) sizes.observe(svg.current);
    return () => sizes.disconnect();
  }, []);
  /** u is how many metres a pixel is: marks and texts keep their size on the screen. */
  const u = Math.max(box.width / frame.width, box.height / frame.height);

  const severities = useMemo(() => {
    const order = ["note", "warning", "error"];
    const m = new Map<string, string>();
    for (const f of d.findings ?? []) if (order.indexOf(f.severity) > order.indexOf(m.get(f.place) ?? "")) m.set(f.place, f.severity);
    return m;
  }, [d]);

  const zoom = (by: number, about?: Spot): void => {
    const c = about ?? items.find((i) => i.name === at) ?? { x: box.left + box.width / 2, y: box.top + box.height / 2 };
    setView({ left: c.x + (box.left - c.x) * by, top: c.y + (box.top - c.y) * by, width: box.width * by, height: box.height * by });
  };
  const spot = (e: { clientX: number; clientY: number }): Spot => {
    const m = svg.current?.getScreenCTM()?.inverse();
    if (!m) return { x: 0, y: 0 };
    const p = new DOMPoint(e.clientX, e.clientY).matrixTransform(m);
    return { x: p.x, y: p.y };
  };

  /** shift moves a post or a wall so far, in nanometres along and across. */
  const shift = (name: string, along: number, across: number): void => {
    const text = work.job.text;
    const post = d.posts?.find((p) => p.name === name);
    let to: string | undefined;
    if (post) to = movedPost(text, d, post, along, across, units);
    else {
      const bay = d.bays?.find((b) => b.name === name);
      const h = bay && handle(text, d, bay);
      to = h?.move(text, h.axis === "x" ? along : across);
    }
    if (to === undefined) setTold(`${name} cannot be moved on the drawing.`);
    else {
      setTold("");
      void work.write(to);
    }
  };

  const items = useMemo((): Place[] => {
    const middle = (a: Spot, b: Spot): Spot => ({ x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 });
    return [
      ...lines.map((l) => ({ kind: "bay", name: l.bay.name, ...middle(l.from, l.to) })),
      ...(d.rooms ?? []).map((r) => ({ kind: "room", name: "room " + r.name, ...centre(r.corners, places) })),
      ...(d.posts ?? []).flatMap((p) => (places.has(p.name) ? [{ kind: "post", name: p.name, ...places.get(p.name)! }] : [])),
      ...typed.flatMap((s) => {
        const [a, b] = [places.get(s.from), places.get(s.to)];
        return a && b && legible(s, a, b, show(s.nm, units), u) ? [{ kind: "size", name: "size " + s.key, ...middle(a, b) }] : [];
      }),
    ];
  }, [lines, places, typed, u]);
  const open = (name: string): void => {
    const size = name.startsWith("size ") ? typed.find((s) => "size " + s.key === name) : undefined;
    if (size) setTyping(size);
    else {
      choose(name);
      enter();
    }
  };
  const keys = useKeys(svg, items, at, {
    open,
    shift: (name, x, y) => shift(name, x * step.nm, y * step.nm),
    act: (key, name) => {
      if (key === "+" || key === "=") zoom(0.8);
      else if (key === "-") zoom(1.25);
      else if (key === "0") setView(undefined);
      else return act(key, name);
      return true;
    },
    leave: () => {
      setDrag(undefined);
      choose("");
    },
  });

  const down = (e: PointerEvent): void => {
    fingers.current.set(e.pointerId, { x: e.clientX, y: e.clientY });
    pan.current = { x: e.clientX, y: e.clientY, box, moved: false };
  };
  const grip = (e: PointerEvent, name: string, what: Pick<Drag, "post" | "wall" | "line">): void => {
    if (e.button !== 0 || (!what.post && !what.wall)) return;
    // A finger that pushes the drawing must not push a wall: it is chosen first.
    if (e.pointerType === "touch" && at !== name) return;
    e.stopPropagation();
    svg.current?.setPointerCapture(e.pointerId);
    setDrag({ name, x: e.clientX, y: e.clientY, dx: 0, dy: 0, ...what });
  };
  const move = (e: PointerEvent): void => {
    if (drag) {
      const moved = Math.hypot(e.clientX - drag.x, e.clientY - drag.y) > far || drag.dx !== 0 || drag.dy !== 0;
      if (moved) setDrag({ ...drag, dx: (e.clientX - drag.x) * u, dy: (e.clientY - drag.y) * u });
      return;
    }
    const p = pan.current;
    const before = fingers.current.get(e.pointerId);
    if (!p || !before) return;
    const others = [...fingers.current.entries()].filter(([id]) => id !== e.pointerId);
    fingers.current.set(e.pointerId, { x: e.clientX, y: e.clientY });
    if (others.length) {
      const o = others[0]![1];
      const was = Math.hypot(before.x - o.x, before.y - o.y);
      const is = Math.hypot(e.clientX - o.x, e.clientY - o.y);
      if (was > 0 && is > 0) zoom(was / is, spot({ clientX: (e.clientX + o.x) / 2, clientY: (e.clientY + o.y) / 2 }));
      pan.current = { ...p, moved: true };
      return;
    }
    if (!p.moved && Math.hypot(e.clientX - p.x, e.clientY - p.y) < far) return;
    pan.current = { ...p, moved: true };
    setView({ ...p.box, left: p.box.left - (e.clientX - p.x) * u, top: p.box.top - (e.clientY - p.y) * u });
  };
  const up = (e: PointerEvent): void => {
    fingers.current.delete(e.pointerId);
    if (!drag) return;
    const along = snap(drag.dx, step.nm);
    const across = snap(-drag.dy, step.nm);
    if (drag.wall ? (drag.wall.axis === "x" ? along : across) : along || across) shift(drag.name, along, across);
    setDrag(undefined);
  };
  /** picked chooses, unless the drawing was only pushed. */
  const picked = (name: string): void => {
    if (pan.current?.moved) return;
    if (name.startsWith("size ")) open(name);
    else choose(name);
    keys.stand(name);
  };

  const off = drag && { x: snap(drag.dx, step.nm) / 1e9, y: -snap(-drag.dy, step.nm) / 1e9 };
  const mark = (name: string): { chosen: boolean; tab: number; u: number; pick: () => void } => ({ chosen: at === name, tab: keys.tab(name), u, pick: () => picked(name) });
  return (
    <section class="sheet plan-sheet" aria-label="Drawing">
      <div class="row tools no-print">
        <button aria-label="Nearer" onClick={() => zoom(0.8)}>+</button>
        <button aria-label="Farther" onClick={() => zoom(1.25)}>−</button>
        <button onClick={() => setView(undefined)}>All of it</button>
        <label class="inline">
          Grid
          <select value={String(grid)} onChange={(e) => setGrid(Number(e.currentTarget.value))}>
            {grids(units).map((g, i) => (
              <option key={g.name} value={String(i)}>
                {g.name}
              </option>
            ))}
          </select>
        </label>
        <span class="quiet" role="status">{told}</span>
      </div>
      <div class="easel">
        <svg
          ref={svg}
          class={`plan ${drag ? "dragging" : ""}`}
          role="group"
          aria-label="Plan. Arrow keys go from bay to bay, Page Down to rooms, posts and sizes, question mark lists the keys."
          viewBox={`${box.left} ${box.top} ${box.width} ${box.height}`}
          onKeyDown={keys.press}
          onWheel={(e) => {
            e.preventDefault();
            zoom(e.deltaY > 0 ? 1.12 : 0.89, spot(e));
          }}
          onPointerDown={down}
          onPointerMove={move}
          onPointerUp={up}
          onPointerCancel={(e) => {
            fingers.current.delete(e.pointerId);
            setDrag(undefined);
          }}
        >
          {(d.rooms ?? []).map((r) => (
            <RoomMark key={r.name} room={r} corners={(r.corners ?? []).flatMap((n) => places.get(n) ?? [])} severity={severities.get(r.name)} {...mark("room " + r.name)} />
          ))}
          {typed.map((s) => (
            <SizeMark key={s.key} size={s} from={places.get(s.from)} to={places.get(s.to)} shown={show(s.nm, units)} {...mark("size " + s.key)} />
          ))}
          {lines.map((l) => (
            <BayMark
              key={l.bay.name}
              line={l}
              severity={severities.get(l.bay.name)}
              {...mark(l.bay.name)}
              grip={(e) => {
                const wall = handle(work.job.text, d, l.bay);
                const from = places.get(l.run.from);
                const to = places.get(l.run.to);
                if (wall) grip(e, l.bay.name, { wall, ...(from && to ? { line: { from, to } } : {}) });
              }}
            />
          ))}
          {(d.posts ?? []).map((p) => {
            const s = places.get(p.name);
            if (!s) return null;
            return <PostMark key={p.name} post={p} at={s} severity={severities.get(p.name)} {...mark(p.name)} grip={(e) => movable(work.job.text, p) && grip(e, p.name, { post: p })} />;
          })}
          {drag && off ? <Ghost drag={drag} off={off} u={u} places={places} units={units} /> : null}
        </svg>
        {typing ? <SizeEntry key={typing.key} size={typing} units={units} at={anchor(svg.current, places, typing)} done={(nm) => {
          setTyping(undefined);
          if (nm !== undefined && nm !== typing.nm) {
            const to = typing.put(work.job.text, nm);
            if (to === undefined) setTold("That size cannot be set on the drawing.");
            else void work.write(to);
          }
          keys.focus("size " + typing.key);
        }} /> : null}
      </div>
    </section>
  );
}

/** Ghost is where a post or a wall comes to stand, with the sizes that follow. */
function Ghost({ drag, off, u, places, units }: { drag: Drag; off: Spot; u: number; places: Map<string, Spot>; units: Units }): JSX.Element | null {
  const { wall, line, post } = drag;
  if (wall && line) {
    const x = wall.axis === "x" ? off.x : 0;
    const y = wall.axis === "y" ? off.y : 0;
    const mid = { x: (line.from.x + line.to.x) / 2 + x, y: (line.from.y + line.to.y) / 2 + y };
    return (
      <g class="ghost" aria-hidden="true">
        <line x1={line.from.x + x} y1={line.from.y + y} x2={line.to.x + x} y2={line.to.y + y} stroke-width={3 * u} />
        <Label x={mid.x} y={mid.y - 14 * u} u={u} text={wall.sizes(Math.round((wall.axis === "x" ? x : -y) * 1e9))} />
      </g>
    );
  }
  const at = post && places.get(post.name);
  if (!post || !at) return null;
  const said = `${show(Math.round(off.x * 1e9), units)} along, ${show(Math.round(-off.y * 1e9), units)} across`;
  return (
    <g class="ghost" aria-hidden="true">
      <line x1={at.x} y1={at.y} x2={at.x + off.x} y2={at.y + off.y} stroke-width={2 * u} />
      <circle cx={at.x + off.x} cy={at.y + off.y} r={7 * u} />
      <Label x={at.x + off.x} y={at.y + off.y - 16 * u} u={u} text={said} />
    </g>
  );
}

function Label({ x, y, u, text }: { x: number; y: number; u: number; text: string }): JSX.Element {
  const w = (text.length * 8.2 + 14) * u;
  return (
    <>
      <rect x={x - w / 2} y={y - 13 * u} width={w} height={20 * u} rx={4 * u} />
      <text x={x} y={y + 2 * u} font-size={14 * u} text-anchor="middle">
        {text}
      </text>
    </>
  );
}

/** SizeEntry is a size typed where it stands. */
function SizeEntry({ size, units, at, done }: { size: Size; units: Units; at: { left: number; top: number }; done: (nm: number | undefined) => void }): JSX.Element {
  const [text, setText] = useState(written(size.nm, units));
  const nm = parsed(text, units);
  const input = useRef<HTMLInputElement>(null);
  useEffect(() => input.current?.select(), []);
  return (
    <form
      class="entry-at"
      style={{ left: `${at.left}px`, top: `${at.top}px` }}
      onSubmit={(e) => {
        e.preventDefault();
        if (nm !== undefined && nm > 0) done(nm);
      }}
    >
      <label>
        {size.label}
        <input
          ref={input}
          value={text}
          aria-invalid={nm === undefined || nm <= 0}
          onInput={(e) => setText(e.currentTarget.value)}
          onKeyDown={(e) => {
            if (e.key === "Escape") {
              e.stopPropagation();
              done(undefined);
            }
          }}
        />
        <small>{nm === undefined || nm <= 0 ? (units === "feet" ? `as 12' 6 1/2", 150 in or 3.8 m` : `as 3600, 3600 mm or 11' 10"`) : show(nm, units)}</small>
      </label>
      <div class="row">
        <button class="main" disabled={nm === undefined || nm <= 0}>Set</button>
        <button type="button" onClick={() => done(undefined)}>Back</button>
      </div>
    </form>
  );
}

/** anchor is where a size stands on the screen, kept inside the drawing. */
function anchor(svg: SVGSVGElement | null, places: Map<string, Spot>, s: Size): { left: number; top: number } {
  const m = svg?.getScreenCTM();
  const a = places.get(s.from);
  const b = places.get(s.to);
  if (!svg || !m || !a || !b) return { left: 0, top: 0 };
  const p = new DOMPoint((a.x + b.x) / 2, (a.y + b.y) / 2).matrixTransform(m);
  const r = svg.getBoundingClientRect();
  return { left: Math.min(Math.max(p.x - r.left - 110, 4), Math.max(r.width - 244, 4)), top: Math.min(Math.max(p.y - r.top - 60, 4), Math.max(r.height - 180, 4)) };
}

function centre(corners: string[] | null, places: Map<string, Spot>): Spot {
  const at = (corners ?? []).flatMap((n) => places.get(n) ?? []);
  return { x: at.reduce((n, c) => n + c.x, 0) / (at.length || 1), y: at.reduce((n, c) => n + c.y, 0) / (at.length || 1) };
}

/** movable says whether a post can be moved by itself: one of a standing barn, or of
 * a structure drawn post by post. */
function movable(text: string, p: Post): boolean {
  return p.kind === "timber" || shiftFormPost(text, p.structure, p.name, () => "") !== undefined;
}

function movedPost(text: string, d: Document, p: Post, along: number, across: number, units: Units): string | undefined {
  const free = shiftFormPost(text, p.structure, p.name, (axis) => written((axis === "x" ? p.x_nm + along : p.y_nm + across), units));
  if (free !== undefined) return free;
  if (p.kind !== "timber") return undefined;
  void d;
  const had = offsetOf(text, p.structure, p.name);
  const sum = (was: string, by: number): string => {
    const to = (parsed(was, units) ?? 0) + by;
    return to ? written(to, units) : "";
  };
  return movePost(text, p.structure, p.name, sum(had.along, along), sum(had.across, across));
}
