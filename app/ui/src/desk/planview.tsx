// The plan as something to work on. It moves with wheel, drag or pinch, zooms with
// plus and minus, and every bay and post is a button.
import type { JSX } from "preact";
import { useMemo, useRef, useState } from "preact/hooks";
import { MM, INCH, type Units } from "../lengths";
import type { Document } from "../made/answers";
import type { Work } from "../work";
import { movePost, offsetOf } from "./edits";
import { around, bayLines, spots, type BayLine, type Box } from "./scene";

/** step is what a dragged post moves by: 1/2 in or 10 mm. */
const step = (units: Units): number => (units === "feet" ? INCH / 2 : 10 * MM);

interface Drag {
  post: string;
  structure: string;
  dx: number;
  dy: number;
  startX: number;
  startY: number;
}

export function PlanView({ work, document: d, at, choose }: { work: Work; document: Document; at: string; choose: (name: string) => void }): JSX.Element {
  const places = useMemo(() => spots(d), [d]);
  const whole = useMemo(() => around(places), [places]);
  const lines = useMemo(() => bayLines(d, places), [d, places]);
  const [view, setView] = useState<Box | undefined>();
  const [drag, setDrag] = useState<Drag | undefined>();
  const svg = useRef<SVGSVGElement>(null);
  const pan = useRef<{ x: number; y: number; box: Box } | undefined>(undefined);
  const box = view ?? whole;
  const units = d.job.units as Units;
  const told = useMemo(() => {
    const m = new Map<string, string>();
    for (const f of d.findings ?? []) if (f.severity !== "note" || !m.has(f.place)) m.set(f.place, f.severity);
    return m;
  }, [d]);
  const perPixel = (): number => box.width / (svg.current?.clientWidth || 800);
  const zoom = (by: number): void => {
    const w = box.width * by;
    const h = box.height * by;
    setView({ left: box.left + (box.width - w) / 2, top: box.top + (box.height - h) / 2, width: w, height: h });
  };
  const move = (e: PointerEvent): void => {
    if (drag) {
      setDrag({ ...drag, dx: (e.clientX - drag.startX) * perPixel(), dy: (e.clientY - drag.startY) * perPixel() });
      return;
    }
    const p = pan.current;
    if (p) setView({ ...p.box, left: p.box.left - (e.clientX - p.x) * perPixel(), top: p.box.top - (e.clientY - p.y) * perPixel() });
  };
  const drop = (): void => {
    pan.current = undefined;
    if (!drag) return;
    const grid = step(units);
    const along = Math.round((drag.dx * 1e9) / grid) * grid;
    const across = Math.round((-drag.dy * 1e9) / grid) * grid;
    if (along || across) void shift(drag.structure, drag.post, along, across);
    setDrag(undefined);
  };
  const shift = async (structure: string, post: string, along: number, across: number): Promise<void> => {
    const had = offsetOf(work.job.text, structure, post);
    const text = movePost(work.job.text, structure, post, sum(had.along, along, units), sum(had.across, across, units));
    if (text) await work.write(text);
  };
  const key = (e: KeyboardEvent): void => {
    if (e.key === "+" || e.key === "=") zoom(0.8);
    else if (e.key === "-") zoom(1.25);
    else if (e.key === "0") setView(undefined);
    else return;
    e.preventDefault();
  };
  const text = Math.max(box.width, box.height * 1.6) / 52;
  return (
    <section class="sheet plan-sheet">
      <div class="row no-print">
        <button aria-label="Zoom in" onClick={() => zoom(0.8)}>+</button>
        <button aria-label="Zoom out" onClick={() => zoom(1.25)}>−</button>
        <button onClick={() => setView(undefined)}>All</button>
        <span class="hint">Choose a bay to fill it. Drag a barn post to where it stands, or choose it and type.</span>
      </div>
      <svg
        ref={svg}
        class="plan"
        role="group"
        aria-label="Plan"
        viewBox={`${box.left} ${box.top} ${box.width} ${box.height}`}
        onKeyDown={key}
        onWheel={(e) => {
          e.preventDefault();
          zoom(e.deltaY > 0 ? 1.12 : 0.89);
        }}
        onPointerDown={(e) => {
          pan.current = { x: e.clientX, y: e.clientY, box };
        }}
        onPointerMove={move}
        onPointerUp={drop}
        onPointerLeave={drop}
      >
        {(d.rooms ?? []).map((r) => {
          const corners = (r.corners ?? []).flatMap((n) => places.get(n) ?? []);
          if (corners.length < 3) return null;
          const wide = Math.max(...corners.map((c) => c.x)) - Math.min(...corners.map((c) => c.x));
          const size = `${r.width} × ${r.depth}`;
          const small = Math.min(text, (wide * 0.86) / (size.length * 0.58));
          const mid = { x: corners.reduce((n, c) => n + c.x, 0) / corners.length, y: corners.reduce((n, c) => n + c.y, 0) / corners.length };
          const name = "room " + r.name;
          return (
            <g key={r.name} role="button" tabIndex={0} aria-label={`Room ${r.name}, ${r.kind}, ${r.width} by ${r.depth}`} aria-pressed={at === name} class="room" onClick={() => choose(name)} onKeyDown={press(() => choose(name))}>
              <polygon points={corners.map((c) => `${c.x},${c.y}`).join(" ")} />
              <text x={mid.x} y={mid.y} font-size={text * 1.3} text-anchor="middle" class="name">
                {r.name}
              </text>
              <text x={mid.x} y={mid.y + text * 1.5} font-size={text} text-anchor="middle">
                {r.kind}
              </text>
              <text x={mid.x} y={mid.y + text * 1.5 + small * 1.4} font-size={small} text-anchor="middle">
                {size}
              </text>
            </g>
          );
        })}
        {lines.map((l) => (
          <BayMark key={l.bay.name} line={l} chosen={at === l.bay.name} severity={told.get(l.bay.name)} choose={choose} text={text} />
        ))}
        {(d.posts ?? []).map((p) => {
          const s = places.get(p.name);
          if (!s) return null;
          const moving = drag?.post === p.name;
          const side = (nm: number): number => Math.max(nm / 1e9, 0.1);
          const x = s.x + (moving ? drag.dx : 0);
          const y = s.y + (moving ? drag.dy : 0);
          return (
            <g
              key={p.name}
              role="button"
              tabIndex={0}
              aria-label={`Post ${p.name}, ${p.kind}`}
              aria-pressed={at === p.name}
              class={`post ${p.kind} ${moving ? "moving" : ""}`}
              onClick={() => choose(p.name)}
              onKeyDown={press(() => choose(p.name))}
              onPointerDown={(e) => {
                e.stopPropagation();
                if (p.kind !== "timber") return;
                (e.currentTarget as Element).setPointerCapture?.(e.pointerId);
                setDrag({ post: p.name, structure: p.structure, dx: 0, dy: 0, startX: e.clientX, startY: e.clientY });
              }}
            >
              <circle class="grip" cx={x} cy={y} r={text * 0.9} />
              <rect x={x - side(p.along_nm) / 2} y={y - side(p.across_nm) / 2} width={side(p.along_nm)} height={side(p.across_nm)} transform={`rotate(${-parseFloat(p.turn) || 0} ${x} ${y})`} />
            </g>
          );
        })}
      </svg>
    </section>
  );
}

function press(f: () => void): (e: KeyboardEvent) => void {
  return (e) => {
    if (e.key !== "Enter" && e.key !== " ") return;
    e.preventDefault();
    f();
  };
}

function BayMark({ line: l, chosen, severity, choose, text }: { line: BayLine; chosen: boolean; severity: string | undefined; choose: (n: string) => void; text: number }): JSX.Element {
  const dx = l.to.x - l.from.x;
  const dy = l.to.y - l.from.y;
  const long = Math.hypot(dx, dy) || 1;
  const b = l.bay;
  const said = `Bay ${b.name}, ${b.fill}, clear width ${b.clear}, ${b.state}${b.board ? `, boards ${b.board}` : ""}${severity ? `, ${severity}` : ""}`;
  const flag = { x: (l.from.x + l.to.x) / 2 - (dy / long) * text, y: (l.from.y + l.to.y) / 2 + (dx / long) * text };
  return (
    <g role="button" tabIndex={0} aria-label={said} aria-pressed={chosen} class={`bay ${b.fill} ${b.state}`} onClick={() => choose(b.name)} onKeyDown={press(() => choose(b.name))}>
      <line class="reach" x1={l.from.x} y1={l.from.y} x2={l.to.x} y2={l.to.y} />
      <line class="fill" x1={l.from.x} y1={l.from.y} x2={l.to.x} y2={l.to.y} />
      {severity ? (
        <g class={`flag ${severity}`}>
          <circle cx={flag.x} cy={flag.y} r={text * 0.7} />
          <text x={flag.x} y={flag.y + text * 0.36} font-size={text} text-anchor="middle">
            {severity === "note" ? "i" : "!"}
          </text>
        </g>
      ) : null}
      <title>{said}</title>
    </g>
  );
}

/** sum adds a shift to a length as the text has it; lengths are written in the
 * job's units, exactly. */
function sum(had: string, by: number, units: Units): string {
  const total = parse(had) + by;
  if (!total) return "";
  if (units === "metric") return `${total / MM} mm`;
  const sixteenths = Math.round(total / (INCH / 16));
  const whole = Math.trunc(Math.abs(sixteenths) / 16);
  const rest = Math.abs(sixteenths) % 16;
  return `${sixteenths < 0 ? "-" : ""}${whole || !rest ? whole : ""}${whole && rest ? " " : ""}${rest ? `${rest}/16` : ""} in`;
}

/** parse reads the lengths that offsets are written in; others start from zero. */
function parse(s: string): number {
  const metric = /^(-?[\d.]+)\s*(mm|cm|m)$/.exec(s.trim());
  if (metric) return Math.round(Number(metric[1]) * MM * { mm: 1, cm: 10, m: 1000 }[metric[2] as "mm" | "cm" | "m"]);
  const feet = /^(-)?(?:(\d+)\s*(?:'|ft))?\s*(?:(\d+(?:\.\d+)?)?[\s-]*(?:(\d+)\/(\d+))?\s*(?:"|in))?$/.exec(s.trim());
  if (!feet || !s.trim()) return 0;
  const n = Number(feet[2] ?? 0) * 12 * INCH + Number(feet[3] ?? 0) * INCH + (feet[4] ? (Number(feet[4]) * INCH) / Number(feet[5]) : 0);
  return feet[1] ? -n : n;
}
