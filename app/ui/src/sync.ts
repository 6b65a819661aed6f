// Sends what this device made and takes in what others made. Everything has an id
// made here, so that sending twice, late or out of order changes nothing.
import { api, NoSignal, Refused, type JobHead } from "./api";
import { keep, now, type KeptJob, type KeptRecord } from "./keep";

export interface Signal {
  /** here: the server answers; away: it does not; unknown: not asked yet. */
  state: "here" | "away" | "unknown";
  /** How much waits to be sent. */
  waiting: number;
  /** What the server refused, for people. */
  refused: string[];
  /** A job whose text somebody else changed meanwhile: theirs, to choose from. */
  conflict?: { job: string; tag: string; text: string; merged?: string };
}

export const signal: Signal = { state: "unknown", waiting: 0, refused: [] };
const watchers = new Set<() => void>();
const taken = new Set<(job: string) => void>();

export function onSignal(f: () => void): () => void {
  watchers.add(f);
  return () => watchers.delete(f);
}

/** onTaken is told of jobs that changed by what came from the server. */
export function onTaken(f: (job: string) => void): () => void {
  taken.add(f);
  return () => taken.delete(f);
}

const tell = (): void => watchers.forEach((f) => f());

let again = false;
let running = false;

/** nudge sends soon. */
export function nudge(): void {
  if (running) {
    again = true;
    return;
  }
  running = true;
  setTimeout(async () => {
    do {
      again = false;
      await round();
    } while (again);
    running = false;
  }, 150);
}

async function round(): Promise<void> {
  try {
    for (const j of await keep.jobs()) await send(j);
    signal.state = "here";
  } catch (err) {
    if (err instanceof NoSignal) signal.state = "away";
    else if (err instanceof Refused && err.status === 401) location.hash = "#/sign-in";
    else signal.refused = [...signal.refused.slice(-4), String((err as Error).message)];
  }
  await count();
}

async function count(): Promise<void> {
  let n = 0;
  for (const j of await keep.jobs()) {
    n += (j.changed ? 1 : 0) + (await keep.unsent(j.id)).length + (await keep.photos(j.id)).filter((p) => !p.sent).length;
  }
  signal.waiting = n;
  tell();
}

async function send(j: KeptJob): Promise<void> {
  if (j.changed && signal.conflict?.job !== j.id) {
    try {
      const head = await api.save(j.id, j.text, j.tag);
      const held = await keep.job(j.id);
      if (held) await keep.putJob({ ...held, ...ofHead(head), changed: held.text !== j.text });
    } catch (err) {
      if (!(err instanceof Refused)) throw err;
      if (err.status === 412) await conflict(j, err);
      else signal.refused = [...signal.refused.slice(-4), `${j.title}: ${err.message}`]; // it stays here; the findings say what is wrong with it
    }
  }
  const held = await keep.job(j.id);
  if (!held?.tag) return; // the server does not have the job yet
  const records = await keep.unsent(j.id);
  for (let i = 0; i < records.length; i += 500) {
    const part = records.slice(i, i + 500);
    const { results: outcomes } = await api.addRecords(j.id, part.map((r) => r.record));
    outcomes.forEach((o, n) => {
      if (o.refused) signal.refused = [...signal.refused.slice(-4), `${part[n]!.record.kind}: ${o.refused}`];
    });
    await keep.putRecords(part.map((r): KeptRecord => ({ ...r, sent: 1 })));
  }
  for (const p of await keep.photos(j.id)) {
    if (p.sent) continue;
    await api.addPhoto(j.id, p.id, p.data, p.place, p.note, p.taken, p.by);
    await keep.putPhoto({ ...p, sent: 1 });
  }
}

async function conflict(j: KeptJob, err: Refused): Promise<void> {
  const { now: theirs, merged } = err.body as { now?: { text: string; tag: string }; merged?: string };
  if (theirs) signal.conflict = { job: j.id, text: theirs.text, tag: theirs.tag, ...(merged ? { merged } : {}) };
}

/** settle ends a conflict: the text chosen is what both have from then on. */
export async function settle(text: string): Promise<void> {
  const c = signal.conflict;
  if (!c) return;
  const j = await keep.job(c.job);
  if (j) await keep.putJob({ ...j, text, tag: c.tag, changed: text !== c.text });
  delete signal.conflict;
  taken.forEach((f) => f(c.job));
  nudge();
  tell();
}

function ofHead(h: JobHead): Pick<KeptJob, "id" | "title" | "farm" | "tag"> {
  return { id: h.id, title: h.title, farm: h.farm, tag: h.tag };
}

/** take brings a job with everything written about it onto this device. What was
 * changed here and is not sent yet stays. */
export async function take(id: string): Promise<void> {
  const t = await api.takeAlong(id);
  const held = await keep.job(id);
  const job: KeptJob = { ...ofHead(t.job), text: t.job.text, changed: false, seq: t.seq, opened: held?.opened ?? now() };
  await keep.putJob(held?.changed ? { ...held, seq: t.seq } : job);
  if (t.kit) await keep.set("kit of " + id, t.kit.text);
  const have = new Set((await keep.records(id)).map((r) => r.id));
  await keep.putRecords(t.records.filter((r) => !have.has(r.id)).map((record): KeptRecord => ({ job: id, id: record.id, record, sent: 1 })));
  taken.forEach((f) => f(id));
}

/** follow takes in what happens to a job while it is looked at. */
export function follow(id: string): () => void {
  const source = new EventSource(api.live(id));
  let soon = 0;
  const come = (): void => {
    clearTimeout(soon);
    soon = window.setTimeout(() => void take(id).catch(() => undefined), 200);
  };
  for (const kind of ["revision", "record", "photo", "deleted", "brought back", "message"]) source.addEventListener(kind, come);
  source.onopen = () => {
    signal.state = "here";
    nudge();
    tell();
  };
  source.onerror = () => {
    signal.state = navigator.onLine ? signal.state : "away";
    tell();
  };
  return () => source.close();
}

addEventListener("online", () => nudge());
addEventListener("offline", () => {
  signal.state = "away";
  tell();
});
