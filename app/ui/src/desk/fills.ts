// Fills by their letter, and doors turned to the other side.
import type { Bay, Document } from "../made/answers";
import { findRoom, frontOf, setBay, setFill, setFront } from "./edits";

/** fills as they are offered, with the letter that the keyboard has for each. */
export const fills: { kind: string; key: string }[] = [
  { kind: "boards", key: "b" },
  { kind: "grille", key: "g" },
  { kind: "window", key: "w" },
  { kind: "feeder", key: "f" },
  { kind: "open", key: "o" },
];

export const isDoor = (b: Bay): boolean => b.fill === "door" || b.door !== undefined;

/** fillBay does what a fill's letter asks. */
export const fillBay: Record<string, (text: string, b: Bay) => string | undefined> = Object.fromEntries(
  fills.map(({ kind, key }) => [key, (text: string, b: Bay) => (isDoor(b) ? undefined : setFill(text, b.name, kind === "feeder" ? { fill: kind, hand: "left" } : kind))]),
);

const other = (hand: string): string => (hand === "left" ? "right" : "left");

/** flip turns a door to the other side: where a leaf parks, or where it is hung. A
 * feeder goes to the other end of its bay. */
export function flip(text: string, d: Document, b: Bay): string | undefined {
  if (b.fill === "feeder") return setFill(text, b.name, { fill: "feeder", hand: other(b.feeder?.hand ?? "left") });
  if (!isDoor(b)) return undefined;
  if (b.door?.kind === "sliding") return setBay(text, b.name, { slides: other(b.door.track?.parks ?? "right") });
  const at = b.room !== undefined ? findRoom(text, d, b.room) : undefined;
  return at && setFront(text, at, "hinge", other(frontOf(text, at, "hinge") || "left"));
}
