// What stands on the plan drawing, each a button. u is how many metres a pixel is:
// texts and targets keep their size on the screen.
import type { JSX } from "preact";
import type { Post, Room } from "../made/answers";
import type { BayLine, Spot } from "./scene";
import type { Size } from "./walls";

interface Mark {
  chosen: boolean;
  tab: number;
  u: number;
  pick: () => void;
}

export function RoomMark({ room: r, corners, severity, chosen, tab, u, pick }: Mark & { room: Room; corners: Spot[]; severity: string | undefined }): JSX.Element | null {
  if (corners.length < 3) return null;
  const wide = Math.max(...corners.map((c) => c.x)) - Math.min(...corners.map((c) => c.x));
  const high = Math.max(...corners.map((c) => c.y)) - Math.min(...corners.map((c) => c.y));
  const mid = { x: corners.reduce((n, c) => n + c.x, 0) / corners.length, y: corners.reduce((n, c) => n + c.y, 0) / corners.length };
  /** fitting is a text's size so that it stays inside, or nothing where it would be too small to read */
  const fitting = (text: string, wish: number): number | undefined => {
    const size = Math.min(wish, (wide * 0.86) / (text.length * 0.6 * u));
    return size >= 9 ? size : undefined;
  };
  const rows = [
    { text: r.name, wish: 19, bold: true },
    { text: r.kind, wish: 13, bold: false },
    { text: `${r.width} × ${r.depth}`, wish: 13, bold: false },
  ].flatMap((v) => {
    const size = fitting(v.text, v.wish);
    return size ? [{ ...v, size }] : [];
  });
  const shown = rows.slice(0, Math.max(1, Math.floor((high / u - 20) / 20)));
  const top = mid.y - ((shown.length - 1) * 10 - 5) * u;
  return (
    <>
      <g
        role="button"
        tabindex={tab}
        data-name={"room " + r.name}
        aria-label={`Room ${r.name}, ${r.kind}, ${r.width} by ${r.depth}${severity ? `, ${severity}` : ""}`}
        aria-pressed={chosen}
        class={`room ${r.kind}`}
        onClick={pick}
      >
        <polygon points={corners.map((c) => `${c.x},${c.y}`).join(" ")} />
      </g>
      {/* Beside the button: what it is called says more than what is drawn on it. */}
      <g class="room-name" aria-hidden="true">
        {shown.map((v, i) => (
          <text key={v.text} x={mid.x} y={top + i * 20 * u} font-size={v.size * u} text-anchor="middle" class={v.bold ? "name" : ""}>
            {v.text}
          </text>
        ))}
        {severity ? <Flag x={mid.x} y={mid.y + (high / 2) * 0.7} u={u} severity={severity} /> : null}
      </g>
    </>
  );
}

function Flag({ x, y, u, severity }: { x: number; y: number; u: number; severity: string }): JSX.Element {
  return (
    <g class={`flag ${severity}`} aria-hidden="true">
      <circle cx={x} cy={y} r={9 * u} stroke-width={1.5 * u} />
      <text x={x} y={y + 4.6 * u} font-size={13 * u} text-anchor="middle">
        {severity === "note" ? "i" : "!"}
      </text>
    </g>
  );
}

/** signs say what fills a bay without colour. */
const signs: Record<string, string> = { window: "▭", feeder: "▿" };

export function BayMark({ line: l, severity, chosen, tab, u, pick, grip }: Mark & { line: BayLine; severity: string | undefined; grip: (e: PointerEvent) => void }): JSX.Element {
  const dx = l.to.x - l.from.x;
  const dy = l.to.y - l.from.y;
  const long = Math.hypot(dx, dy) || 1;
  const b = l.bay;
  const said = `Bay ${b.name}, ${b.fill}, clear width ${b.clear}, ${b.state}${b.board ? `, boards ${b.board}` : ""}${severity ? `, ${severity}` : ""}`;
  const mid = { x: (l.from.x + l.to.x) / 2, y: (l.from.y + l.to.y) / 2 };
  const aside = { x: mid.x - (dy / long) * 15 * u, y: mid.y + (dx / long) * 15 * u };
  const width = Math.max(0.09, 4.5 * u);
  const dash = (...v: number[]): string => v.map((n) => n * u).join(" ");
  const dashes: Record<string, string> = { grille: dash(5, 3), feeder: dash(5, 3), window: dash(14, 4), open: dash(2, 5) };
  return (
    <g role="button" tabindex={tab} data-name={b.name} aria-label={said} aria-pressed={chosen} class={`bay ${b.fill} ${b.state}`} onClick={pick} onPointerDown={grip}>
      <polygon class="reach" points={band(l.from, l.to, Math.max(0.2, 13 * u))} />
      <line class="fill" x1={l.from.x} y1={l.from.y} x2={l.to.x} y2={l.to.y} stroke-width={b.fill === "open" ? 2 * u : width} {...(dashes[b.fill] ? { "stroke-dasharray": dashes[b.fill]! } : {})} />
      {b.fill === "door" ? <Leaf line={l} u={u} /> : null}
      {signs[b.fill] && long > 40 * u ? (
        <text class="glyph" x={mid.x + (dy / long) * 12 * u} y={mid.y - (dx / long) * 12 * u + 5 * u} font-size={14 * u} text-anchor="middle">
          {signs[b.fill]}
        </text>
      ) : null}
      {severity && (severity !== "note" || long > 90 * u) ? <Flag x={aside.x} y={aside.y} u={u} severity={severity} /> : null}
      <title>{said}</title>
    </g>
  );
}

/** band is a line made so wide to each side, as the corners of a polygon. */
function band(a: Spot, b: Spot, half: number): string {
  const long = Math.hypot(b.x - a.x, b.y - a.y) || 1;
  const x = (-(b.y - a.y) / long) * half;
  const y = ((b.x - a.x) / long) * half;
  return `${a.x + x},${a.y + y} ${b.x + x},${b.y + y} ${b.x - x},${b.y - y} ${a.x - x},${a.y - y}`;
}

/** Leaf is a sliding leaf where it parks, as an arrow along the wall. */
function Leaf({ line: l, u }: { line: BayLine; u: number }): JSX.Element | null {
  const parks = l.bay.door?.track?.parks;
  if (parks !== "left" && parks !== "right") return null;
  const long = Math.hypot(l.to.x - l.from.x, l.to.y - l.from.y) || 1;
  const e = { x: (l.to.x - l.from.x) / long, y: (l.to.y - l.from.y) / long };
  const out = 9 * u;
  const mid = { x: (l.from.x + l.to.x) / 2 + e.y * out, y: (l.from.y + l.to.y) / 2 - e.x * out };
  const way = parks === "right" ? 1 : -1;
  const half = Math.min(long * 0.4, 22 * u);
  const tip = { x: mid.x + e.x * half * way, y: mid.y + e.y * half * way };
  const tail = { x: mid.x - e.x * half * way, y: mid.y - e.y * half * way };
  const barb = (side: number): Spot => ({ x: tip.x - e.x * 6 * u * way + e.y * 4 * u * side, y: tip.y - e.y * 6 * u * way - e.x * 4 * u * side });
  return (
    <path
      class="leaf"
      aria-hidden="true"
      d={`M${tail.x} ${tail.y}L${tip.x} ${tip.y}M${barb(1).x} ${barb(1).y}L${tip.x} ${tip.y}L${barb(-1).x} ${barb(-1).y}`}
      stroke-width={1.6 * u}
    />
  );
}

export function PostMark({ post: p, at: s, severity, chosen, tab, u, pick, grip }: Mark & { post: Post; at: Spot; severity: string | undefined; grip: (e: PointerEvent) => void }): JSX.Element {
  const side = (nm: number): number => Math.max(nm / 1e9, 5 * u);
  return (
    <g
      role="button"
      tabindex={tab}
      data-name={p.name}
      aria-label={`Post ${p.name}, ${p.kind}${severity ? `, ${severity}` : ""}`}
      aria-pressed={chosen}
      class={`post ${p.kind}`}
      onClick={pick}
      onPointerDown={grip}
    >
      <circle class="grip" cx={s.x} cy={s.y} r={13 * u} />
      <rect x={s.x - side(p.along_nm) / 2} y={s.y - side(p.across_nm) / 2} width={side(p.along_nm)} height={side(p.across_nm)} transform={`rotate(${-parseFloat(p.turn) || 0} ${s.x} ${s.y})`} />
      {severity && severity !== "note" ? <Flag x={s.x + 14 * u} y={s.y - 14 * u} u={u} severity={severity} /> : null}
    </g>
  );
}

/** legible says whether a size can be read between its two ends; else it shows when
 * one comes nearer. */
export function legible(size: Size, from: Spot, to: Spot, shown: string, u: number): boolean {
  const long = size.along ? Math.abs(to.x - from.x) : Math.abs(to.y - from.y);
  return (shown.length * 7.6 + 10) * u < long * 1.05;
}

export function SizeMark({ size, from, to, shown, chosen, tab, u, pick }: Mark & { size: Size; from: Spot | undefined; to: Spot | undefined; shown: string }): JSX.Element | null {
  if (!from || !to || !legible(size, from, to, shown, u)) return null;
  const off = 34 * u;
  const a = size.along ? { x: from.x, y: Math.max(from.y, to.y) + off } : { x: Math.min(from.x, to.x) - off, y: from.y };
  const b = size.along ? { x: to.x, y: a.y } : { x: a.x, y: to.y };
  const wide = (shown.length * 7.6 + 10) * u;
  const mid = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
  const tick = (p: Spot): string => `M${p.x - 4 * u} ${p.y + 4 * u}l${8 * u} ${-8 * u}`;
  return (
    <g role="button" tabindex={tab} data-name={"size " + size.key} aria-label={`${size.label}: ${shown}. Change it`} aria-pressed={chosen} class="size" onClick={pick}>
      <path class="rule" d={`M${a.x} ${a.y}L${b.x} ${b.y}${tick(a)}${tick(b)}`} stroke-width={1.2 * u} />
      <g transform={size.along ? "" : `rotate(-90 ${mid.x} ${mid.y})`}>
        <rect x={mid.x - Math.max(wide, 26 * u) / 2} y={mid.y - 13 * u} width={Math.max(wide, 26 * u)} height={26 * u} rx={4 * u} />
        <text x={mid.x} y={mid.y + 4.5 * u} font-size={13 * u} text-anchor="middle">
          {shown}
        </text>
      </g>
    </g>
  );
}
