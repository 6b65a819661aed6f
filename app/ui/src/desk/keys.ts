// The drawing from the keyboard: one thing at a time has the focus, arrows go to the
// nearest in their direction, Page Up and Page Down change what they go through.
import type { RefObject } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";

/** Spot is something that can have the focus. */
export interface Spot {
  kind: string;
  name: string;
  x: number;
  y: number;
}

/** kinds in the order of Page Down. */
const kinds = ["bay", "room", "post", "size"];

interface Does {
  open: (name: string) => void;
  /** moves what has the focus by steps of the grid, along and across */
  shift: (name: string, along: number, across: number) => void;
  act: (key: string, name: string) => boolean;
  leave: () => void;
}

export interface Keys {
  tab: (name: string) => number;
  press: (e: KeyboardEvent) => void;
  stand: (name: string) => void;
  focus: (name: string) => void;
}

const ways: Record<string, [number, number]> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

export function useKeys(svg: RefObject<SVGSVGElement | null>, items: Spot[], chosen: string, does: Does): Keys {
  const [at, setAt] = useState("");
  const wants = useRef("");
  const first = items.find((i) => i.name === at) ?? items.find((i) => i.name === chosen) ?? items[0];
  const find = (name: string): SVGElement | null | undefined => svg.current?.querySelector<SVGElement>(`[data-name="${CSS.escape(name)}"]`);
  useEffect(() => {
    // What an edit made anew gets the focus back.
    if (wants.current && document.activeElement === document.body) find(wants.current)?.focus();
  });
  const focus = (name: string): void => {
    wants.current = name;
    setAt(name);
    find(name)?.focus();
  };
  const press = (e: KeyboardEvent): void => {
    const named = (e.target as Element | null)?.closest<SVGElement>("[data-name]")?.dataset["name"];
    const here = items.find((i) => i.name === named) ?? first;
    if (!here || e.ctrlKey || e.metaKey || e.altKey) return;
    const way = ways[e.key];
    if (way && e.shiftKey) does.shift(here.name, way[0], -way[1]);
    else if (way) {
      const to = nearest(items, here, way);
      if (to) focus(to.name);
    } else if (e.key === "PageDown" || e.key === "PageUp") {
      const to = other(items, here, e.key === "PageDown" ? 1 : -1);
      if (to) focus(to.name);
    } else if (e.key === "Enter" || e.key === " ") does.open(here.name);
    else if (e.key === "Escape") does.leave();
    else if (!does.act(e.key, here.name)) return;
    e.preventDefault();
    e.stopPropagation();
  };
  return { tab: (name) => (name === first?.name ? 0 : -1), press, stand: setAt, focus };
}

/** nearest is the next of the same kind in a direction: what lies straight ahead
 * counts as nearer than what lies aside. */
function nearest(items: Spot[], from: Spot, [wx, wy]: [number, number]): Spot | undefined {
  let best: Spot | undefined;
  let least = Infinity;
  for (const i of items) {
    if (i.kind !== from.kind || i === from) continue;
    const dx = i.x - from.x;
    const dy = i.y - from.y;
    const ahead = dx * wx + dy * wy;
    const aside = Math.abs(dx * wy) + Math.abs(dy * wx);
    if (ahead < 0.05) continue;
    const cost = ahead + 2.5 * aside;
    if (cost < least) {
      least = cost;
      best = i;
    }
  }
  return best;
}

/** other is the nearest of the next kind that there is. */
function other(items: Spot[], from: Spot, by: 1 | -1): Spot | undefined {
  for (let n = 1; n < kinds.length; n++) {
    const kind = kinds[(kinds.indexOf(from.kind) + by * n + kinds.length * n) % kinds.length];
    const near = items.filter((i) => i.kind === kind).sort((a, b) => Math.hypot(a.x - from.x, a.y - from.y) - Math.hypot(b.x - from.x, b.y - from.y));
    if (near[0]) return near[0];
  }
  return undefined;
}
