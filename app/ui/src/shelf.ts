// The shop's files on this device: kits, yards and, for the office, price books. A job
// is planned and priced with them where there is no signal.
import { call } from "./api";
import { keep } from "./keep";
import { office } from "./session";

export type Kind = "kits" | "prices" | "yards";

export interface ShelfFile {
  text: string;
  title: string;
  /** The server's revision; empty where it came along with a job. */
  tag: string;
  deleted?: boolean;
}

/** Head is a file as the server lists it. */
export interface Head {
  kind: Kind;
  name: string;
  title: string;
  revision: number;
  tag: string;
  changed: string;
  deleted?: string;
}

export type Shelf = Record<string, ShelfFile>;

const key = "shelf";

/** kinds are those that this person may see. */
export const kinds = (): Kind[] => (office() ? ["kits", "prices", "yards"] : ["kits", "yards"]);

/** at is a kind's address at the server, or a file's. */
export const at = (kind: Kind, name?: string): string => `/api/shop/${kind}${name === undefined ? "" : "/" + encodeURIComponent(name)}`;

/** shelf is what this device holds; no price book for whoever is not of the office. */
export async function shelf(): Promise<Shelf> {
  const had = await keep.get(key);
  let all: Shelf;
  try {
    all = had ? (JSON.parse(had) as Shelf) : {};
  } catch {
    all = {};
  }
  const may = kinds();
  return Object.fromEntries(Object.entries(all).filter(([name]) => may.some((k) => name.startsWith(k + "/"))));
}

let last: Promise<void> = Promise.resolve();

/** change does one change after the other, so that none is lost. */
function change(f: (s: Shelf) => void): Promise<void> {
  last = last.then(async () => {
    const s = await shelf();
    f(s);
    await keep.set(key, JSON.stringify(s));
  });
  return last;
}

/** shelve keeps files that came along with a job. */
export async function shelve(files: Partial<Record<Kind, { name: string; text: string }>>): Promise<void> {
  await change((s) => {
    for (const [kind, f] of Object.entries(files)) {
      if (!f) continue;
      const name = kind + "/" + f.name;
      if (s[name]?.text !== f.text) s[name] = { text: f.text, title: s[name]?.title ?? f.name, tag: "" };
    }
  });
}

/** freshen takes in what changed in the shop. Without signal all stays as it is. */
export async function freshen(): Promise<Shelf> {
  try {
    const held = await shelf();
    const fresh: Shelf = {};
    for (const kind of kinds()) {
      const { files } = await call<{ files: Head[] }>("GET", at(kind));
      for (const f of files) {
        const name = kind + "/" + f.name;
        const had = held[name];
        const text = had && had.tag === f.tag ? had.text : (await call<{ text: string }>("GET", at(kind, f.name))).text;
        fresh[name] = { text, title: f.title, tag: f.tag, ...(f.deleted ? { deleted: true } : {}) };
      }
    }
    await change((s) => {
      for (const [name, f] of Object.entries(fresh)) s[name] = f;
    });
  } catch {
    // what is here goes on
  }
  return shelf();
}

/** textsFor are the files that a job's text may name, for the engine. */
export function textsFor(text: string, s: Shelf): Record<string, string> {
  const out: Record<string, string> = {};
  for (const [name, f] of Object.entries(s)) {
    if (text.includes(name.slice(name.indexOf("/") + 1))) out[name] = f.text;
  }
  return out;
}

/** texts are all files, for the engine. */
export const texts = (s: Shelf): Record<string, string> => Object.fromEntries(Object.entries(s).map(([name, f]) => [name, f.text]));
