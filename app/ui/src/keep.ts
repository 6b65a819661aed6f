// What this device keeps, so that a day without signal loses nothing: texts of
// jobs with what was changed here, records with whether the server has them, and
// photos on their way.
import { openDB, type DBSchema, type IDBPDatabase } from "idb";

export interface KeptJob {
  id: string;
  title: string;
  farm: string;
  text: string;
  /** The server's revision that text was made from; empty for a job the server does not have. */
  tag: string;
  /** The text was changed here and the server does not have it. */
  changed: boolean;
  /** Up to which event this device has seen the job. */
  seq: number;
  /** When it was last looked at here. */
  opened: string;
}

export interface Rec {
  id: string;
  at: string;
  by?: string;
  kind: "note" | "cut" | "step" | "problem" | "void";
  note?: unknown;
  cut?: CutBoard;
  step?: { step: string; done: boolean; note?: string };
  problem?: { step?: string; place?: string; text: string; photos?: string[]; solved?: boolean };
  void?: { record: string };
}

export interface CutBoard {
  item: string;
  treated?: boolean;
  length_nm: number;
  from_rack?: boolean;
  good?: { label: string; length_nm: number }[];
  wrong?: boolean;
  rest_nm?: number[];
  note?: string;
}

export interface KeptRecord {
  job: string;
  id: string;
  record: Rec;
  /** The server has it. */
  sent: 0 | 1;
}

export interface KeptPhoto {
  job: string;
  id: string;
  place: string;
  note: string;
  taken: string;
  by: string;
  data: Blob;
  sent: 0 | 1;
}

interface Shape extends DBSchema {
  jobs: { key: string; value: KeptJob };
  records: { key: [string, string]; value: KeptRecord; indexes: { job: string; unsent: [string, number] } };
  photos: { key: [string, string]; value: KeptPhoto; indexes: { job: string } };
  self: { key: string; value: string };
}

let opened: Promise<IDBPDatabase<Shape>> | undefined;

function db(): Promise<IDBPDatabase<Shape>> {
  opened ??= openDB<Shape>("stallwright", 1, {
    upgrade(d) {
      d.createObjectStore("jobs", { keyPath: "id" });
      const records = d.createObjectStore("records", { keyPath: ["job", "id"] });
      records.createIndex("job", "job");
      records.createIndex("unsent", ["job", "sent"]);
      d.createObjectStore("photos", { keyPath: ["job", "id"] }).createIndex("job", "job");
      d.createObjectStore("self");
    },
  });
  return opened;
}

/** newID makes an id that no other device makes: 80 random bits. */
export function newID(): string {
  const b = crypto.getRandomValues(new Uint8Array(10));
  return Array.from(b, (v) => v.toString(16).padStart(2, "0")).join("");
}

/** now is this device's time with its offset from UTC, as records carry it. */
export function now(date = new Date()): string {
  const two = (n: number): string => String(Math.trunc(Math.abs(n))).padStart(2, "0");
  const off = -date.getTimezoneOffset();
  const local = new Date(date.getTime() + off * 60_000).toISOString().slice(0, 23);
  return `${local}${off < 0 ? "-" : "+"}${two(off / 60)}:${two(off % 60)}`;
}

export const keep = {
  async jobs(): Promise<KeptJob[]> {
    return (await (await db()).getAll("jobs")).sort((a, b) => (a.opened < b.opened ? 1 : -1));
  },
  async job(id: string): Promise<KeptJob | undefined> {
    return (await db()).get("jobs", id);
  },
  async putJob(j: KeptJob): Promise<void> {
    await (await db()).put("jobs", j);
  },
  /** changeJob changes what is kept of a job, as one step: what others changed
   * meanwhile stays. It gives what is kept then; nothing where there is no such job. */
  async changeJob(id: string, change: (j: KeptJob) => KeptJob): Promise<KeptJob | undefined> {
    const t = (await db()).transaction("jobs", "readwrite");
    const had = await t.store.get(id);
    const now = had && change(had);
    if (now) await t.store.put(now);
    await t.done;
    return now;
  },
  async dropJob(id: string): Promise<void> {
    await (await db()).delete("jobs", id);
  },
  async records(job: string): Promise<KeptRecord[]> {
    return (await db()).getAllFromIndex("records", "job", job);
  },
  async unsent(job: string): Promise<KeptRecord[]> {
    return (await db()).getAllFromIndex("records", "unsent", [job, 0]);
  },
  async putRecords(rs: KeptRecord[]): Promise<void> {
    const t = (await db()).transaction("records", "readwrite");
    for (const r of rs) void t.store.put(r);
    await t.done;
  },
  async photos(job: string): Promise<KeptPhoto[]> {
    return (await db()).getAllFromIndex("photos", "job", job);
  },
  async putPhoto(p: KeptPhoto): Promise<void> {
    await (await db()).put("photos", p);
  },
  async get(key: string): Promise<string> {
    return (await (await db()).get("self", key)) ?? "";
  },
  async set(key: string, value: string): Promise<void> {
    await (await db()).put("self", value, key);
  },
};
