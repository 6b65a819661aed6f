// One job as it is open on this device: its text, its records, and the plan that
// follows from both. Whatever changes it is kept on the device first and sent
// when there is signal.
import { api } from "./api";
import { latest, Trouble } from "./engine";
import { keep, newID, now, type KeptJob, type KeptRecord, type Rec } from "./keep";
import type { Screen } from "./made/answers";
import { shelf, textsFor, type Shelf } from "./shelf";
import { nudge } from "./sync";

/** How far the plan is: fitting what was changed, proving what was found, done; or
 * seen: as it was when the job was last open on this device. */
export type Stage = "fitting" | "proving" | "done" | "seen";

/** calm is how long nothing must change before the plan is proven, in milliseconds. */
const calm = 250;

/** Work tells whoever watches when something changed. */
export class Work {
  job: KeptJob;
  /** The shop's files on this device. */
  shelf: Shelf = {};
  records: KeptRecord[] = [];
  /** What the drawing shows. */
  planned: Screen | undefined;
  trouble: Trouble | undefined;
  stage: Stage = "fitting";
  /** How long the last change took to be drawn, in milliseconds. */
  took = 0;
  /** Which change the drawing shows: what hangs on it is asked for once for each. */
  drawn = 0;
  private readonly watchers = new Set<() => void>();
  private readonly back: string[] = [];
  private readonly forth: string[] = [];
  private asked = 0;
  private puts = 0; // texts on their way onto the device
  private changes = 0; // counts questions, so that late answers are known as such
  private soon = 0;
  private readonly fit = latest<Screen, number>(
    "sketch",
    (p, n) => this.fitted(p, n),
    (t, n) => this.failed(t, n),
  );
  private readonly prove = latest<Screen, number>(
    "screen",
    (p, n) => this.proven(p, n),
    (t, n) => this.failed(t, n),
  );

  private constructor(job: KeptJob) {
    this.job = job;
  }

  static async open(id: string): Promise<Work | undefined> {
    const job = await keep.job(id);
    if (!job) return undefined;
    const w = new Work({ ...job, opened: now() });
    const [kept, records, seen] = await Promise.all([shelf(), keep.records(id), keep.get("seen of " + id)]);
    w.shelf = kept;
    w.records = records;
    if (seen) {
      try {
        w.planned = JSON.parse(seen) as Screen;
        w.stage = "seen";
      } catch {
        // it is worked out anew in any case
      }
    }
    void keep.changeJob(id, (j) => ({ ...j, opened: w.job.opened }));
    w.replan();
    if (!w.planned && job.tag && !job.changed) void w.lookAt();
    return w;
  }

  /** lookAt shows the server's plan of a job that was never open here, while the
   * engine is still on its way. */
  private async lookAt(): Promise<void> {
    const line = (navigator as { connection?: { saveData?: boolean; effectiveType?: string } }).connection;
    if (line?.saveData || (line?.effectiveType && line.effectiveType !== "4g")) return; // it would only be in the way
    const document = await api.plan(this.job.id).catch(() => undefined);
    if (!document || this.planned) return;
    const pieces = document.pieces ?? [];
    this.planned = { sketch: false, document, boards: pieces.filter((p) => p.kind === "board").length, pieces: pieces.length, ways: [] };
    this.stage = "seen";
    this.tell();
  }

  watch(f: () => void): () => void {
    this.watchers.add(f);
    return () => this.watchers.delete(f);
  }

  private tell(): void {
    for (const f of this.watchers) f();
  }

  get planning(): boolean {
    return this.stage === "fitting" || this.stage === "seen";
  }

  /** entries are the notebook's lines, those taken back left out. */
  entries(): string[] {
    const gone = new Set(this.records.map((r) => r.record.void?.record).filter((v) => v !== undefined));
    return this.records.filter((r) => r.record.kind === "note" && !gone.has(r.id)).map((r) => JSON.stringify(r.record.note));
  }

  question(): { job: string; entries: string[]; shop: Record<string, string> } {
    return { job: this.job.text, entries: this.entries(), shop: textsFor(this.job.text, this.shelf) };
  }

  replan(): void {
    if (this.stage !== "seen") this.stage = "fitting";
    this.asked = performance.now();
    clearTimeout(this.soon);
    this.fit(this.question(), ++this.changes);
    this.tell();
  }

  private fitted(p: Screen, n: number): void {
    if (n !== this.changes) return; // the next answer is on its way
    this.planned = p;
    this.drawn = n;
    this.trouble = undefined;
    this.took = Math.round(performance.now() - this.asked);
    this.stage = p.sketch ? "proving" : "done";
    if (p.sketch) {
      const question = this.question();
      this.soon = window.setTimeout(() => this.prove(question, n), calm);
    }
    this.tell();
  }

  private proven(p: Screen, n: number): void {
    if (n !== this.changes) return;
    this.planned = p;
    this.trouble = undefined;
    this.stage = "done";
    void keep.set("seen of " + this.job.id, JSON.stringify(p));
    this.tell();
  }

  /** failed leaves the last good plan in sight beside the trouble. */
  private failed(t: Trouble, n: number): void {
    if (n !== this.changes) return;
    this.trouble = t;
    this.stage = "done";
    this.tell();
  }

  /** write puts a new text in place of the job's. */
  async write(text: string): Promise<void> {
    if (text === this.job.text) return;
    this.back.push(this.job.text);
    this.forth.length = 0;
    await this.put(text);
  }

  get canUndo(): boolean {
    return this.back.length > 0;
  }
  get canRedo(): boolean {
    return this.forth.length > 0;
  }

  async undo(): Promise<void> {
    const text = this.back.pop();
    if (text === undefined) return;
    this.forth.push(this.job.text);
    await this.put(text);
  }

  async redo(): Promise<void> {
    const text = this.forth.pop();
    if (text === undefined) return;
    this.back.push(this.job.text);
    await this.put(text);
  }

  private async put(text: string): Promise<void> {
    this.job = { ...this.job, text, changed: true };
    this.replan();
    this.puts++;
    // Only the text is this one's to say: what revision it began from, sync knows.
    await keep.changeJob(this.job.id, (j) => ({ ...j, text, changed: true })).finally(() => this.puts--);
    nudge();
  }

  /** add keeps records; they are on the device when it returns. */
  async add(...records: Rec[]): Promise<void> {
    const kept = records.map((record): KeptRecord => ({ job: this.job.id, id: record.id, record, sent: 0 }));
    await keep.putRecords(kept);
    this.records = [...this.records, ...kept];
    if (records.some((r) => r.kind === "note" || r.kind === "void")) this.replan();
    else this.tell(); // nothing of it changes the plan
    nudge();
  }

  /** stamp begins a record. */
  async stamp(kind: Rec["kind"]): Promise<Rec> {
    const by = await keep.get("me");
    return { id: newID(), at: now(), ...(by ? { by } : {}), kind };
  }

  /** reload takes in what the server sent meanwhile. */
  async reload(): Promise<void> {
    const before = JSON.stringify(this.question());
    const job = await keep.job(this.job.id);
    if (job && !this.puts) this.job = job; // else it was read before what is being written
    this.records = await keep.records(this.job.id);
    this.shelf = await shelf();
    if (JSON.stringify(this.question()) !== before) this.replan();
    else this.tell();
  }
}
