// What can be done with a room, by its name in the plan.
import type { Document } from "../made/answers";
import { addRoom, dropRoom, findRoom, join, owned, split, value } from "./edits";
import { written } from "./grid";
import type { Units } from "../lengths";

const unitsOf = (d: Document): Units => d.job.units as Units;
const room = (d: Document, name: string): { width_nm: number } | undefined => (d.rooms ?? []).find((r) => r.name === name);

export function addRoomAt(text: string, d: Document, name: string): string | undefined {
  const at = findRoom(text, d, name);
  return at && addRoom(text, at);
}

export function dropRoomAt(text: string, d: Document, name: string): string | undefined {
  const at = findRoom(text, d, name);
  return at && dropRoom(text, at);
}

export function splitRoom(text: string, d: Document, name: string): string | undefined {
  const at = findRoom(text, d, name);
  const r = room(d, name);
  if (!at || !r) return undefined;
  return split(text, at, written(Math.round(r.width_nm / 2), unitsOf(d)));
}

/** nextRoom is the one that a room can be joined with: the next of its row. */
export function nextRoom(text: string, d: Document, name: string): string | undefined {
  const at = findRoom(text, d, name);
  if (!at) return undefined;
  const all = owned(d, at.structure.name);
  const i = all.findIndex((r) => r.name === name);
  const next = all[i + 1];
  const there = next && findRoom(text, d, next.name);
  return there && there.list.join() === at.list.join() && there.index === at.index + 1 ? next.name : undefined;
}

export function joinRoom(text: string, d: Document, name: string): string | undefined {
  const at = findRoom(text, d, name);
  const next = nextRoom(text, d, name);
  const a = room(d, name);
  const b = next !== undefined ? room(d, next) : undefined;
  return at && a && b ? join(text, at, written(a.width_nm + b.width_nm, unitsOf(d))) : undefined;
}

/** canSplit says why a room cannot be split, or nothing. */
export function cannotSplit(text: string, d: Document, name: string): string {
  const at = findRoom(text, d, name);
  if (!at) return "It is drawn post by post.";
  if (at.structure.kind !== "barn-row") return "";
  return Number(value(text, [...at.list, at.index, "spans"]) ?? 1) < 2 ? "Between two standing posts there is nothing for a wall to stand on." : "";
}
