// Ways out of a finding. What a finding offers is for people; where it comes to an
// edit of the text, one click takes it.
import type { Bay, Document, Finding, KitChoice } from "../made/answers";
import { findRoom, fillOf, setBay, setFill, setFillKey, setFront, frontOf } from "./edits";

/** Way is one way out. */
export interface Way {
  says: string;
  /** what the text becomes; nothing where people must see to it */
  take: ((text: string) => string | undefined) | undefined;
  /** measuring is what mends it */
  measure: boolean;
}

type Take = (text: string, b: Bay) => string | undefined;

const side = (b: Bay): string => (b.door?.track?.parks === "left" ? "right" : "left");

/** byBay are the choices that come to an edit of a bay. */
const byBay: Record<string, Take> = {
  "solid-boards": (t, b) => setFill(t, b.name, "boards"),
  "boards-by-height": (t, b) => setFill(t, b.name, "boards"),
  "boards-cut-out": (t, b) => setFill(t, b.name, "boards"),
  "leave-open": (t, b) => setFill(t, b.name, "open"),
  "leave-bay-open": (t, b) => setFill(t, b.name, "open"),
  "no-shim": (t, b) => setBay(t, b.name, { shim: "" }),
  "cut-bay": (t, b) => setBay(t, b.name, { shim: "false" }),
  "cut-planned": (t, b) => setBay(t, b.name, { shim: "false" }),
  "shim-bay": (t, b) => setBay(t, b.name, { shim: "true" }),
  "shim-planned": (t, b) => setBay(t, b.name, { shim: "true" }),
  "fewer-below": (t, b) => lower(t, b, "sill", b.window ? courses(b) : 0),
  "window-from": (t, b) => (fillOf(t, b.name, "from") ? setFillKey(t, b.name, "window", "from", "") : undefined),
  "no-treated": (t, b) => setFillKey(t, b.name, b.fill, "treated", "0"),
  "slide-other": (t, b) => setBay(t, b.name, { slides: side(b) }),
  "feeder-hand": (t, b) => setFillKey(t, b.name, "feeder", "hand", b.feeder?.hand === "right" ? "left" : "right"),
};

/** tape are the choices that a tape or a level answers. */
const tape = /^(measure|read|tape|widths|plumb|rod|level-missing|piers|look-at|suspects|square-again|tighten)/;

const courses = (b: Bay): number => (b.courses ?? []).filter((c) => c.kind === "full").length;

function lower(text: string, b: Bay, key: string, had: number): string | undefined {
  const n = Number(fillOf(text, b.name, key)) || had;
  return n > 1 ? setFillKey(text, b.name, b.fill, key, String(n - 1)) : undefined;
}

/** ways are the ways out of a finding, those that the page itself knows last. Keys
 * are what its choices are called in no language. */
export function ways(text: string, d: Document, kit: KitChoice | undefined, f: Finding, keys: string[]): Way[] {
  const bay = (d.bays ?? []).find((b) => b.name === f.place);
  const names = keys.map((k) => k.replace(/^way\./, ""));
  const out: Way[] = (f.choices ?? []).map((says, i) => {
    const name = names[i] ?? "";
    const found = byBay[name];
    const take = bay && found && found(text, bay) !== undefined ? (t: string) => found(t, bay) : undefined;
    return { says, take, measure: tape.test(name) };
  });
  return bay ? [...out, ...more(text, d, kit, f, bay, names)] : out;
}

/** more are edits that help and that no finding names. */
function more(text: string, d: Document, kit: KitChoice | undefined, f: Finding, b: Bay, names: string[]): Way[] {
  const out: Way[] = [];
  const add = (says: string, take: (t: string) => string | undefined): void => {
    if (take(text) !== undefined) out.push({ says, take, measure: false });
  };
  if ((f.code === "door-park" || f.code === "door-meets") && b.door?.track) {
    const to = b.door.track.parks === "left" ? "right" : "left";
    if (!names.includes("slide-other")) add(`park the leaf on the ${to}`, (t) => setBay(t, b.name, { slides: to }));
  }
  if (["door-park", "door-meets", "door-lap"].includes(f.code)) {
    const at = b.room !== undefined ? findRoom(text, d, b.room) : undefined;
    if (at) for (const place of ["left", "centre", "right"]) if (frontOf(text, at, "at") !== place) add(`put the doorway ${place === "centre" ? "in the middle" : "at the " + place}`, (t) => setFront(t, at, "at", place));
  }
  if (["no-grille", "window-place", "feeder-width", "stack-short", "grille-taper"].includes(f.code)) {
    if (!names.some((n) => byBay[n] && n.includes("boards"))) add("fill it with boards", (t) => setFill(t, b.name, "boards"));
  }
  if (f.code === "no-grille") {
    for (const g of kit?.grilles ?? []) if (fillOf(text, b.name, "grille") !== g.id) add(`try ${g.name}`, (t) => setFillKey(t, b.name, "grille", "grille", g.id));
  }
  return out;
}
