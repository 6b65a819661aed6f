// Edits of a job's text. Comments and the order of keys stay as the writer has
// them; only what is edited changes.
import { Document, isMap, isScalar, isSeq, parseDocument, type Node, type YAMLMap, type YAMLSeq } from "yaml";
import type { Document as PlanDocument } from "../made/answers";

/** Edit changes a text; it gives undefined where it does not apply. */
type Path = (string | number)[];

function open(text: string): Document.Parsed | undefined {
  const doc = parseDocument(text, { keepSourceTokens: false, version: "1.2", schema: "failsafe" });
  return doc.errors.length ? undefined : (doc as Document.Parsed);
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
  const doc = open(text);
  return doc ? structures(doc) : [];
}

function edit(text: string, change: (doc: Document) => boolean): string | undefined {
  const doc = open(text);
  return doc && change(doc) ? close(doc) : undefined;
}

/** value reads a text at a path. */
export function value(text: string, path: Path): string | undefined {
  const doc = open(text);
  return doc && at(doc, path);
}

/** set writes a value; an empty one takes the key away. */
export function set(text: string, path: Path, v: unknown): string | undefined {
  return edit(text, (doc) => {
    if (v === undefined || v === "") doc.deleteIn(path);
    else doc.setIn(path, typeof v === "object" ? doc.createNode(v) : v);
    return true;
  });
}

/** setFill fills one bay, and keeps what else is said about it. */
export function setFill(text: string, bay: string, fill: unknown): string | undefined {
  return edit(text, (doc) => {
    if (!isMap(doc.get("bays", true))) doc.set("bays", doc.createNode({}));
    if (!isMap(doc.getIn(["bays", bay], true))) doc.setIn(["bays", bay], doc.createNode({}));
    doc.setIn(["bays", bay, "fill"], typeof fill === "object" ? doc.createNode(fill) : fill);
    return true;
  });
}

/** setDoor says which door hangs in a doorway, and to which side it slides. */
export function setDoor(text: string, bay: string, what: { door?: string; slides?: string }): string | undefined {
  return edit(text, (doc) => {
    for (const [key, v] of Object.entries(what)) {
      if (!isMap(doc.get("bays", true))) doc.set("bays", doc.createNode({}));
      if (!isMap(doc.getIn(["bays", bay], true))) doc.setIn(["bays", bay], doc.createNode({}));
      doc.setIn(["bays", bay, key], v);
    }
    return true;
  });
}

/** RoomAt is where a room stands in the text. */
export interface RoomAt {
  structure: Structure;
  list: Path;
  index: number;
}

/** findRoom finds a room of the plan in the text: rows list their rooms in the
 * order of the plan, the first row before the second. */
export function findRoom(text: string, plan: PlanDocument, room: string): RoomAt | undefined {
  const doc = open(text);
  if (!doc) return undefined;
  const posts = new Map((plan.posts ?? []).map((p) => [p.name, p.structure]));
  const owner = (r: { corners: string[] | null }): string => posts.get(r.corners?.[0] ?? "") ?? "";
  const one = (plan.rooms ?? []).find((r) => r.name === room);
  const structure = structures(doc).find((s) => one && s.name === owner(one));
  if (!one || !structure) return undefined;
  const all = (plan.rooms ?? []).filter((r) => owner(r) === structure.name);
  let n = all.indexOf(one);
  for (const key of ["rooms", "second"]) {
    const list = doc.getIn([...structure.path, key], true);
    if (!isSeq(list)) continue;
    if (n < list.items.length) return { structure, list: [...structure.path, key], index: n };
    n -= list.items.length;
  }
  return undefined;
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
    else doc.setIn([...path, key], typeof v === "object" ? doc.createNode(v) : v);
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
  const doc = open(text);
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
