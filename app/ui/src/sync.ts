// Sends what this device made and takes in what others made. Everything has an id
// made here, so that sending twice, late or out of order changes nothing.
import { api, NoSignal, Refused, type JobHead } from "./api";
import { keep, now, type KeptJob, type KeptRecord } from "./keep";
import { shelve } from "./shelf";

export interface Signal {
  /** here: the server answers; away: it does not; locked: it wants one to sign in;
   * unknown: not asked yet. */
  state: "here" | "away" | "locked" | "unknown";
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
    try {
      do {
        again = false;
        await round();
      } while (again);
    } finally {
      running = false;
    }
  }, 150);
}

/** told keeps what the server refused in sight, each once. */
function told(text: string): void {
  if (!signal.refused.includes(text)) signal.refused = [...signal.refused.slice(-4), text];
}

/** forgive takes a refusal out of sight. */
export function forgive(text: string): void {
  signal.refused = signal.refused.filter((t) => t !== text);
  tell();
}

/** Between two tries without signal, in milliseconds: from the first to the most. */
const soonest = 4_000;
const latest = 60_000;
let pause = soonest;
let timer = 0;

/** later tries again by itself: a phone does not always tell when signal is back. */
function later(): void {
  clearTimeout(timer);
  timer = window.setTimeout(nudge, pause);
  pause = Math.min(pause * 2, latest);
}

async function round(): Promise<void> {
  try {
    await api.session(); // where nothing waits, this tells whether the server is there
    for (const j of await keep.jobs()) {
      try {
        await send(j);
      } catch (err) {
        if (!(err instanceof Refused) || err.status === 401) throw err;
        told(`${j.title}: ${err.message}`); // what it was stays here; other jobs go on
      }
    }
    signal.state = "here";
    pause = soonest;
  } catch (err) {
    if (err instanceof NoSignal) {
      signal.state = "away";
      later();
    } else if (err instanceof Refused) signal.state = "locked"; // work goes on, and is sent later
    else told(String((err as Error).message));
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
      await keep.changeJob(j.id, (now) => ({ ...now, ...ofHead(head), changed: now.text !== j.text }));
      if (!j.tag) born.forEach((f) => f(j.id));
      taken.forEach((f) => f(j.id));
      if ((await keep.job(j.id))?.changed) again = true; // it was changed while this was on its way
    } catch (err) {
      if (!(err instanceof Refused)) throw err;
      if (err.status === 412) await conflict(j, err);
      else if (err.status === 409 && !j.tag) await adopt(j.id);
      else if (err.status === 401) throw err;
      else told(`${j.title}: ${err.message}`); // it stays here; the findings say what is wrong with it
    }
  }
  const held = await keep.job(j.id);
  if (!held?.tag) return; // the server does not have the job yet
  const records = await keep.unsent(j.id);
  for (let i = 0; i < records.length; i += 500) {
    const part = records.slice(i, i + 500);
    const { results: outcomes } = await api.addRecords(j.id, part.map((r) => r.record));
    outcomes.forEach((o, n) => {
      if (o.refused) told(`${part[n]!.record.kind}: ${o.refused}`);
    });
    await keep.putRecords(part.map((r): KeptRecord => ({ ...r, sent: 1 })));
  }
  for (const p of await keep.photos(j.id)) {
    if (p.sent) continue;
    try {
      await api.addPhoto(j.id, p.id, p.data, p.place, p.note, p.taken, p.by);
    } catch (err) {
      if (!(err instanceof Refused) || err.status === 401) throw err;
      told(`${p.place}: ${err.message}`); // it will not be taken another time either; it stays on this device
    }
    await keep.putPhoto({ ...p, sent: 1 });
  }
}

/** adopt finds that the server has a job of ours: it had arrived, and the answer
 * was lost. */
async function adopt(id: string): Promise<void> {
  const { job } = await api.takeAlong(id);
  await keep.changeJob(id, (now) => ({ ...now, ...ofHead(job), changed: now.text !== job.text }));
  born.forEach((f) => f(id));
  again = true;
}

async function conflict(j: KeptJob, err: Refused): Promise<void> {
  const { now: theirs, merged } = err.body as { now?: { text: string; tag: string }; merged?: string };
  if (theirs?.text === j.text) await keep.changeJob(j.id, (now) => ({ ...now, tag: theirs.tag, changed: now.text !== theirs.text })); // it had arrived, and the answer was lost
  else if (theirs) signal.conflict = { job: j.id, text: theirs.text, tag: theirs.tag, ...(merged ? { merged } : {}) };
}

/** settle ends a conflict: what was chosen goes on for all. The text of this device
 * that was not chosen goes into the history before, so that it is not lost. */
export async function settle(choice: "theirs" | "both" | "mine"): Promise<void> {
  const c = signal.conflict;
  const j = c && (await keep.job(c.job));
  if (!c || !j) return;
  const put = (text: string, tag: string, changed: boolean) => keep.changeJob(j.id, (now) => ({ ...now, text, tag, changed }));
  const text = choice === "theirs" ? c.text : choice === "both" ? (c.merged ?? c.text) : j.text;
  if (choice !== "mine" && j.text !== c.text) {
    try {
      const aside = await api.save(j.id, j.text, c.tag, "kept aside: another text was chosen");
      await put(text, aside.tag, true);
    } catch (err) {
      if (!(err instanceof Refused)) return; // no signal: the choice stands open
      if (err.status === 412) {
        await conflict(j, err); // changed once more: choose again
        tell();
        return;
      }
      told(`${j.title}: ${err.message}`); // a text that does not read is in no history
      await put(text, c.tag, text !== c.text);
    }
  } else await put(text, c.tag, text !== c.text);
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
  const fresh = { ...ofHead(t.job), text: t.job.text, changed: false, seq: t.seq };
  const held = await keep.changeJob(id, (j) => (j.changed ? { ...j, seq: t.seq } : { ...j, ...fresh }));
  if (!held) await keep.putJob({ ...fresh, opened: now() });
  await shelve({ ...(t.kit ? { kits: t.kit } : {}), ...(t.yard ? { yards: t.yard } : {}), ...(t.prices ? { prices: t.prices } : {}) });
  await keep.set("photos of " + id, JSON.stringify(t.photos));
  const have = new Set((await keep.records(id)).map((r) => r.id));
  await keep.putRecords(t.records.filter((r) => !have.has(r.id)).map((record): KeptRecord => ({ job: id, id: record.id, record, sent: 1 })));
  taken.forEach((f) => f(id));
  tell();
}

/** born are told of a job that the server has from now on. */
const born = new Set<(job: string) => void>();

/** follow takes in what happens to a job while it is looked at. A job that only
 * this device has is followed once the server has it. */
export function follow(id: string): () => void {
  let source: EventSource | undefined;
  let soon = 0;
  let gone = false;
  const come = (): void => {
    clearTimeout(soon);
    soon = window.setTimeout(() => void take(id).catch(() => undefined), 200);
  };
  const start = async (): Promise<void> => {
    const held = await keep.job(id);
    if (gone || source || (held && !held.tag)) return;
    source = new EventSource(api.live(id));
    for (const kind of ["revision", "record", "photo", "deleted", "brought back", "message"]) source.addEventListener(kind, come);
    source.onopen = () => {
      signal.state = "here";
      nudge();
      tell();
    };
    source.onerror = () => {
      nudge(); // which finds out whether the server is there
      if (source?.readyState !== EventSource.CLOSED) return; // it tries again by itself
      source = undefined;
      setTimeout(() => void start(), soonest);
    };
  };
  const begun = (job: string): void => {
    if (job === id) void start();
  };
  born.add(begun);
  void start();
  return () => {
    gone = true;
    born.delete(begun);
    source?.close();
  };
}

addEventListener("online", () => nudge());
document.addEventListener("visibilitychange", () => {
  if (document.visibilityState === "visible") nudge();
});
addEventListener("offline", () => {
  signal.state = "away";
  tell();
});
