// One job as it is open on this device: its text, its records, and the plan that
// follows from both. Whatever changes it is kept on the device first and sent
// when there is signal.
import { latest, Trouble } from "./engine";
import { keep, newID, now, type KeptJob, type KeptRecord, type Rec } from "./keep";
import type { Planned } from "./made/answers";
import { nudge } from "./sync";

/** Work tells whoever watches when something changed. */
export class Work {
  job: KeptJob;
  kit: string | undefined;
  records: KeptRecord[] = [];
  planned: Planned | undefined;
  trouble: Trouble | undefined;
  planning = false;
  /** How long the last plan took, in milliseconds. */
  took = 0;
  private readonly watchers = new Set<() => void>();
  private readonly back: string[] = [];
  private readonly forth: string[] = [];
  private asked = 0;
  private readonly ask = latest<Planned>(
    "plan",
    (p) => this.answered(p, undefined),
    (t) => this.answered(undefined, t),
  );

  private constructor(job: KeptJob) {
    this.job = job;
  }

  static async open(id: string): Promise<Work | undefined> {
    const job = await keep.job(id);
    if (!job) return undefined;
    const w = new Work({ ...job, opened: now() });
    await keep.putJob(w.job);
    w.kit = (await keep.get("kit of " + id)) || undefined;
    w.records = await keep.records(id);
    w.replan();
    return w;
  }

  watch(f: () => void): () => void {
    this.watchers.add(f);
    return () => this.watchers.delete(f);
  }

  private tell(): void {
    for (const f of this.watchers) f();
  }

  /** entries are the notebook's lines, those taken back left out. */
  entries(): string[] {
    const gone = new Set(this.records.map((r) => r.record.void?.record).filter((v) => v !== undefined));
    return this.records.filter((r) => r.record.kind === "note" && !gone.has(r.id)).map((r) => JSON.stringify(r.record.note));
  }

  question(): { job: string; entries: string[]; kit?: string } {
    return { job: this.job.text, entries: this.entries(), ...(this.kit ? { kit: this.kit } : {}) };
  }

  replan(): void {
    this.planning = true;
    this.asked = performance.now();
    this.ask(this.question());
    this.tell();
  }

  private answered(p: Planned | undefined, t: Trouble | undefined): void {
    if (p) this.planned = p; // the last good plan stays in sight beside the trouble
    this.trouble = t;
    this.planning = false;
    this.took = Math.round(performance.now() - this.asked);
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
    await keep.putJob(this.job);
    nudge();
  }

  /** add keeps records; they are on the device when it returns. */
  async add(...records: Rec[]): Promise<void> {
    const kept = records.map((record): KeptRecord => ({ job: this.job.id, id: record.id, record, sent: 0 }));
    await keep.putRecords(kept);
    this.records = [...this.records, ...kept];
    this.replan();
    nudge();
  }

  /** stamp begins a record. */
  async stamp(kind: Rec["kind"]): Promise<Rec> {
    const by = await keep.get("me");
    return { id: newID(), at: now(), ...(by ? { by } : {}), kind };
  }

  /** reload takes in what the server sent meanwhile. */
  async reload(): Promise<void> {
    const job = await keep.job(this.job.id);
    if (job) this.job = job;
    this.records = await keep.records(this.job.id);
    this.replan();
  }
}
