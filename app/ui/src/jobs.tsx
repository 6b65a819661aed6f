// The list of jobs: what is on this device and what the server holds, and how a
// new one begins.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { api, type JobHead, type Session } from "./api";
import { ask } from "./engine";
import { keep, newID, now, type KeptJob } from "./keep";
import { say } from "./language";
import { starterNames } from "./made/answers"; // written by the build: this page does not wait for the engine
import { address } from "./places";
import { nudge, onSignal } from "./sync";

const starters: Record<string, string> = {
  "barn-row": "Stalls between the posts of a standing barn",
  "free-row": "A row that stands by itself",
  "free-barn": "A row whose posts bear the roof",
  pen: "A round pen",
};

export function Jobs({ session }: { session: Session | undefined }): JSX.Element {
  const [held, setHeld] = useState<KeptJob[]>([]);
  const [there, setThere] = useState<JobHead[]>([]);
  useEffect(() => {
    const load = (): void => void keep.jobs().then(setHeld);
    load();
    api.jobs().then((r) => setThere(r.jobs), () => undefined);
    return onSignal(load); // what was sent meanwhile is told as such
  }, [session?.role]);
  const here = new Set(held.map((j) => j.id));
  const rows = [
    ...held.map((j) => ({ id: j.id, title: j.title, farm: j.farm, note: j.changed ? say("app.changed-here") : say("app.on-device") })),
    ...there.filter((j) => !here.has(j.id)).map((j) => ({ id: j.id, title: j.title, farm: j.farm, note: say("app.on-server") })),
  ];
  const mayMake = !session?.accounts || ["owner", "estimator"].includes(session.role);
  return (
    <>
      <h1>{say("app.jobs")}</h1>
      <ul class="list grid">
        {rows.map((j) => (
          <li key={j.id} class="sheet">
            <h2>
              <a class="target" href={address(j.id, "")} dir="auto">
                {j.title || say("app.job-unnamed")}
              </a>
            </h2>
            <p dir="auto">{j.farm}</p>
            <p class="quiet">{j.note}</p>
          </li>
        ))}
      </ul>
      {rows.length === 0 ? <p class="quiet">{say("app.no-jobs")}</p> : null}
      {mayMake ? <NewJob /> : null}
    </>
  );
}

function NewJob(): JSX.Element {
  const [trouble, setTrouble] = useState("");
  const [busy, setBusy] = useState(false);
  const begin = async (starter: string): Promise<void> => {
    setBusy(true);
    let text: string;
    try {
      text = await ask<string>("starter", { job: "", about: starter });
    } catch (err) {
      setBusy(false);
      setTrouble(err instanceof Error ? err.message : String(err));
      return;
    }
    const id = newID();
    const job: KeptJob = { id, title: "New job", farm: "", text, tag: "", changed: true, seq: 0, opened: now() };
    await keep.putJob(job);
    nudge();
    location.hash = address(id, "desk");
  };
  const bring = async (e: Event): Promise<void> => {
    const file = (e.currentTarget as HTMLInputElement).files?.[0];
    if (!file) return;
    if (file.size > 2_000_000) {
      setTrouble(`${file.name} is larger than a job file can be (2 MB).`);
      return;
    }
    const id = newID();
    await keep.putJob({ id, title: file.name.replace(/\.ya?ml$/, ""), farm: "", text: await file.text(), tag: "", changed: true, seq: 0, opened: now() });
    nudge();
    location.hash = address(id, "desk");
  };
  return (
    <section class="stack" lang="en">
      <h2>Begin a job</h2>
      {trouble ? <p class="told error">{trouble}</p> : null}
      {busy ? <p role="status">Starting the engine… <progress /></p> : null}
      <div class="row">
        {starterNames.map((s) => (
          <button key={s} disabled={busy} onClick={() => void begin(s)}>
            {starters[s] ?? s}
          </button>
        ))}
      </div>
      <label class="sheet">
        Or bring a job file
        <input type="file" accept=".yaml,.yml,application/yaml" onChange={(e) => void bring(e)} />
      </label>
    </section>
  );
}
