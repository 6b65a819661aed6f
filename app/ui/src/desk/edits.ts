// Edits of a job's text. Comments and the order of keys stay as the writer has
// them; only what is edited changes.
import { Document, isMap, isScalar, isSeq, parseDocument, type Node, type YAMLMap, type YAMLSeq } from "yaml";
import type { Document as PlanDocument, Room } from "../made/answers";
import { inForm } from "./form";

/** Edit changes a text; it gives undefined where it does not apply. */
type Path = (string | number)[];

function open(text: string): Document.Parsed | undefined {
  const doc = parseDocument(text, { keepSourceTokens: false, version: "1.2", schema: "failsafe" });
  return doc.errors.length ? undefined : (doc as Document.Parsed);
}

let seen: { text: string; doc: Document.Parsed | undefined } | undefined;

/** peek is a text to be read only; the one read last is kept, for a drawing asks of
 * each of its rooms. */
export function peek(text: string): Document.Parsed | undefined {
  if (seen?.text !== text) seen = { text, doc: open(text) };
  return seen.doc;
}

function close(doc: Document): string {
  return doc.toString({ lineWidth: 0, flowCollectionPadding: false });
}

/** at reads a value as plain text. */
function at(doc: Document, path: Path): string | undefined {
  const v = doc.getIn(path, true);
  return isScalar(v) ? String(v.value) : undefined;
}

/** Structure is where one structure stands in the text. */
export interface Structure {
  path: Path;
  kind: string;
  name: string;
}

function structures(doc: Document): Structure[] {
  const list = doc.get("structures", true) as Node | undefined;
  if (!isSeq(list)) return [];
  return list.items.flatMap((item, i) => {
    if (!isMap(item)) return [];
    const kind = String((item.items[0]?.key as { value?: unknown } | undefined)?.value ?? "");
    const path: Path = ["structures", i, kind];
    return [{ path, kind, name: at(doc, [...path, "name"]) ?? "" }];
  });
}

/** listStructures reads what a text holds. */
export function listStructures(text: string): Structure[] {
  const doc = peek(text);
  return doc ? structures(doc) : [];
}

function edit(text: string, change: (doc: Document) => boolean): string | undefined {
  const doc = open(text);
  if (!doc) return undefined;
  const before = close(doc);
  if (!change(doc)) return undefined;
  const after = close(doc);
  const formed = inForm(text, before, after);
  // What it says counts before how it is written.
  return formed !== undefined && JSON.stringify(open(formed)?.toJS()) === JSON.stringify(open(after)?.toJS()) ? formed : after;
}

/** value reads a text at a path. */
export function value(text: string, path: Path): string | undefined {
  const doc = peek(text);
  return doc && at(doc, path);
}

/** set writes a value; an empty one takes the key away. */
export function set(text: string, path: Path, v: unknown): string | undefined {
  return edit(text, (doc) => {
    if (v === undefined || v === "") doc.deleteIn(path);
    else doc.setIn(path, typeof v === "object" ? doc.createNode(v, { flow: true }) : v);
    return true;
  });
}

/** bayChange is what a text says of one bay, made where it says nothing yet. */
function bayChange(doc: Document, bay: string): Path {
  if (!isMap(doc.get("bays", true))) doc.set("bays", doc.createNode({}));
  if (!isMap(doc.getIn(["bays", bay], true))) doc.setIn(["bays", bay], doc.createNode({}));
  return ["bays", bay];
}

/** setFill fills one bay, and keeps what else is said about it. */
export function setFill(text: string, bay: string, fill: unknown): string | undefined {
  return edit(text, (doc) => {
    const path = bayChange(doc, bay);
    doc.setIn([...path, "fill"], typeof fill === "object" ? doc.createNode(fill, { flow: true }) : fill);
    return true;
  });
}

/** fillOf is what a text says of a bay's fill; nothing where the wall says it. */
export function fillOf(text: string, bay: string, key: string): string {
  return value(text, ["bays", bay, "fill", key]) ?? "";
}

/** setFillKey says more of a bay's fill: which grille, where its window stands. An
 * empty value takes it back. */
export function setFillKey(text: string, bay: string, kind: string, key: string, v: string): string | undefined {
  return edit(text, (doc) => {
    const path = [...bayChange(doc, bay), "fill"];
    const had = doc.getIn(path, true);
    if (!isMap(had)) doc.setIn(path, doc.createNode({ fill: isScalar(had) ? String(had.value) : kind }, { flow: true }));
    if (v === "") doc.deleteIn([...path, key]);
    else doc.setIn([...path, key], v);
    return true;
  });
}

/** setBay says something of a bay beside its fill: its door, where that slides, a
 * shim. An empty value takes it back. */
export function setBay(text: string, bay: string, what: Record<string, string>): string | undefined {
  return edit(text, (doc) => {
    const path = bayChange(doc, bay);
    for (const [key, v] of Object.entries(what)) {
      if (v === "") doc.deleteIn([...path, key]);
      else doc.setIn([...path, key], v);
    }
    return true;
  });
}

/** setFront says something of a room's front: where its doorway is, where a leaf is
 * hung. The front of the row is copied into the room first, so that the rest stays. */
export function setFront(text: string, r: RoomAt, key: string, v: string): string | undefined {
  return edit(text, (doc) => {
    const path = [...r.list, r.index];
    asMap(doc, path);
    const own = doc.getIn([...path, "front"], true);
    if (!isMap(own)) {
      const common = doc.getIn([...r.structure.path, "fronts"], true);
      const from = isScalar(own) ? { whole: String(own.value) } : isMap(common) ? common.toJS(doc) : {};
      doc.setIn([...path, "front"], doc.createNode(from, { flow: true }));
    }
    if (v === "") doc.deleteIn([...path, "front", key]);
    else doc.setIn([...path, "front", key], v);
    return true;
  });
}

/** frontOf reads something of a room's front. */
export function frontOf(text: string, r: RoomAt, key: string): string {
  const own = [...r.list, r.index, "front"];
  const doc = peek(text);
  if (!doc) return "";
  return (isMap(doc.getIn(own, true)) ? at(doc, [...own, key]) : at(doc, [...r.structure.path, "fronts", key])) ?? "";
}

/** RoomAt is where a room stands in the text. */
export interface RoomAt {
  structure: Structure;
  list: Path;
  index: number;
  /** The second row is like the first and stated nowhere: what is changed changes in both. */
  both: boolean;
}

/** owned are a structure's rooms in the plan, in the order of the text: the first
 * row, then the second. */
export function owned(plan: PlanDocument, structure: string): Room[] {
  const posts = new Map((plan.posts ?? []).map((p) => [p.name, p.structure]));
  return (plan.rooms ?? []).filter((r) => posts.get(r.corners?.[0] ?? "") === structure);
}

/** findRoom finds a room of the plan in the text. */
export function findRoom(text: string, plan: PlanDocument, room: string): RoomAt | undefined {
  const doc = peek(text);
  if (!doc) return undefined;
  const posts = new Map((plan.posts ?? []).map((p) => [p.name, p]));
  const one = (plan.rooms ?? []).find((r) => r.name === room);
  const structure = one && structures(doc).find((s) => s.name === posts.get(one.corners?.[0] ?? "")?.structure);
  if (!one || !structure) return undefined;
  const all = owned(plan, structure.name);
  const first = doc.getIn([...structure.path, "rooms"], true);
  if (!isSeq(first)) return undefined;
  const n = all.indexOf(one);
  const count = first.items.length;
  if (n < count) return { structure, list: [...structure.path, "rooms"], index: n, both: all.length > count && !isSeq(doc.getIn([...structure.path, "second"], true)) };
  const second = doc.getIn([...structure.path, "second"], true);
  if (isSeq(second)) return n - count < second.items.length ? { structure, list: [...structure.path, "second"], index: n - count, both: false } : undefined;
  // A row that mirrors the first: the room opposite.
  const middle = (r: Room): number => (r.corners ?? []).reduce((sum, c) => sum + (posts.get(c)?.x_nm ?? 0), 0) / (r.corners?.length || 1);
  const apart = all.slice(0, count).map((r) => Math.abs(middle(r) - middle(one)));
  return { structure, list: [...structure.path, "rooms"], index: apart.indexOf(Math.min(...apart)), both: true };
}

/** asMap makes the short form of a room (its kind alone) a mapping. */
function asMap(doc: Document, path: Path): void {
  const v = doc.getIn(path, true);
  if (isScalar(v)) doc.setIn(path, doc.createNode({ kind: String(v.value) }));
}

/** setRoom changes one key of a room. */
export function setRoom(text: string, r: RoomAt, key: string, v: unknown): string | undefined {
  return edit(text, (doc) => {
    const path = [...r.list, r.index];
    asMap(doc, path);
    if (v === undefined || v === "") doc.deleteIn([...path, key]);
    else doc.setIn([...path, key], typeof v === "object" ? doc.createNode(v, { flow: true }) : v);
    return true;
  });
}

/** addRoom puts a room behind another, alike in everything but its name. */
export function addRoom(text: string, r: RoomAt): string | undefined {
  return edit(text, (doc) => {
    const list = doc.getIn(r.list, true) as YAMLSeq;
    const copy = doc.createNode((list.items[r.index] as Node).toJS(doc)) as Node;
    if (isMap(copy)) copy.delete("name");
    list.items.splice(r.index + 1, 0, copy);
    return spacings(doc, r.structure, r.index, 1);
  });
}

/** dropRoom takes a room away. The last one stays. */
export function dropRoom(text: string, r: RoomAt): string | undefined {
  return edit(text, (doc) => {
    const list = doc.getIn(r.list, true) as YAMLSeq;
    if (list.items.length < 2) return false;
    list.items.splice(r.index, 1);
    return spacings(doc, r.structure, r.index, -1);
  });
}

/** join makes one room of a room and its neighbour on the right: in a barn it
 * spans both spacings, in a free-standing row it takes both widths. */
export function join(text: string, r: RoomAt, both: string): string | undefined {
  return edit(text, (doc) => {
    const list = doc.getIn(r.list, true) as YAMLSeq;
    if (r.index + 1 >= list.items.length) return false;
    const path = [...r.list, r.index];
    asMap(doc, path);
    if (r.structure.kind === "barn-row") {
      const spans = (p: Path): number => Number(at(doc, [...p, "spans"]) ?? 1);
      doc.setIn([...path, "spans"], String(spans(path) + spans([...r.list, r.index + 1])));
    } else {
      doc.setIn([...path, "width"], both);
    }
    list.items.splice(r.index + 1, 1);
    return true;
  });
}

/** split makes two rooms of one that spans several spacings or has a width. */
export function split(text: string, r: RoomAt, half: string): string | undefined {
  return edit(text, (doc) => {
    const list = doc.getIn(r.list, true) as YAMLSeq;
    const path = [...r.list, r.index];
    const spans = Number(at(doc, [...path, "spans"]) ?? 1);
    asMap(doc, path);
    if (r.structure.kind === "barn-row") {
      if (spans < 2) return false; // a wall needs a post to stand on
      const left = Math.floor(spans / 2);
      if (left === 1) doc.deleteIn([...path, "spans"]);
      else doc.setIn([...path, "spans"], String(left));
      list.items.splice(r.index + 1, 0, doc.createNode(spans - left === 1 ? { kind: "stall" } : { kind: "stall", spans: String(spans - left) }));
      return true;
    }
    doc.setIn([...path, "width"], half);
    list.items.splice(r.index + 1, 0, doc.createNode({ kind: "stall", width: half }));
    return true;
  });
}

/** spacings keeps a barn's list of spacings as long as its rooms need it. */
function spacings(doc: Document, s: Structure, at: number, by: 1 | -1): boolean {
  const list = s.kind === "barn-row" ? doc.getIn([...s.path, "spacing"], true) : undefined;
  if (isSeq(list)) {
    const i = Math.min(at, list.items.length - 1);
    if (by > 0) list.items.splice(i, 0, doc.createNode((list.items[i] as Node).toJS(doc)));
    else list.items.splice(i, 1);
  }
  return true;
}

/** movePost says how far a post stands from its place in the grid. */
export function movePost(text: string, structure: string, post: string, along: string, across: string): string | undefined {
  return edit(text, (doc) => {
    const s = structures(doc).find((v) => v.name === structure);
    if (!s || s.kind !== "barn-row") return false;
    const path = [...s.path, "offsets"];
    if (!isSeq(doc.getIn(path, true))) doc.setIn(path, doc.createNode([]));
    const list = doc.getIn(path, true) as YAMLSeq;
    const i = list.items.findIndex((v) => isMap(v) && String((v as YAMLMap).get("post")) === post);
    const entry = doc.createNode({ post, ...(along ? { along } : {}), ...(across ? { across } : {}) });
    if (!along && !across) {
      if (i >= 0) list.items.splice(i, 1);
    } else if (i >= 0) list.items[i] = entry;
    else list.items.push(entry);
    if (!list.items.length) doc.deleteIn(path);
    return true;
  });
}

/** offsetOf reads how far a post stands from its place in the grid. */
export function offsetOf(text: string, structure: string, post: string): { along: string; across: string } {
  const doc = peek(text);
  const s = doc && structures(doc).find((v) => v.name === structure);
  const list = doc && s ? doc.getIn([...s.path, "offsets"], true) : undefined;
  const found = isSeq(list) ? list.items.find((v) => isMap(v) && String((v as YAMLMap).get("post")) === post) : undefined;
  const read = (key: string): string => String((found as YAMLMap | undefined)?.get(key) ?? "");
  return { along: read("along"), across: read("across") };
}

/** copyRow adds a structure alike in everything but its name. */
export function copyRow(text: string, name: string, as: string): string | undefined {
  return edit(text, (doc) => {
    const i = structures(doc).findIndex((v) => v.name === name);
    const list = doc.get("structures", true);
    if (i < 0 || !isSeq(list)) return false;
    const s = structures(doc)[i]!;
    const copy = doc.createNode((list.items[i] as Node).toJS(doc)) as YAMLMap;
    copy.setIn([s.kind, "name"], as);
    copy.deleteIn([s.kind, "offsets"]);
    list.items.splice(i + 1, 0, copy);
    return true;
  });
}

/** addStructure puts a structure of another text behind those there are. */
export function addStructure(text: string, from: string, name: string): string | undefined {
  const other = peek(from);
  const one = other && structures(other)[0];
  if (!other || !one) return undefined;
  return edit(text, (doc) => {
    const list = doc.get("structures", true);
    if (!isSeq(list)) return false;
    const copy = doc.createNode((other.getIn(["structures", 0], true) as Node).toJS(other)) as YAMLMap;
    copy.setIn([one.kind, "name"], name);
    list.items.push(copy);
    return true;
  });
}

/** dropStructure takes a structure away. The last one stays. */
export function dropStructure(text: string, name: string): string | undefined {
  return edit(text, (doc) => {
    const i = structures(doc).findIndex((v) => v.name === name);
    const list = doc.get("structures", true);
    if (i < 0 || !isSeq(list) || list.items.length < 2) return false;
    list.items.splice(i, 1);
    return true;
  });
}

/** freeName is a name that no structure has. */
export function freeName(text: string): string {
  const names = new Set(listStructures(text).map((s) => s.name));
  return [..."ABCDEFGHJKLMNPQRSTUVWXYZ"].find((n) => !names.has(n)) ?? "A" + names.size;
}

/** shiftFormPost moves a post of a structure that is drawn post by post; to gives its
 * new place along an axis. */
export function shiftFormPost(text: string, structure: string, post: string, to: (axis: "x" | "y") => string): string | undefined {
  return edit(text, (doc) => {
    const s = structures(doc).find((v) => v.name === structure);
    const list = s?.kind === "free-form" ? doc.getIn([...s.path, "posts"], true) : undefined;
    if (!s || !isSeq(list)) return false;
    const i = list.items.findIndex((v) => isMap(v) && [String(v.get("name")), `${structure}.${String(v.get("name"))}`].includes(post));
    if (i < 0) return false;
    for (const axis of ["x", "y"] as const) doc.setIn([...s.path, "posts", i, axis], to(axis));
    return true;
  });
}
