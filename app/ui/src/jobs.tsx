// The list of jobs: what is on this device and what the server holds, and how a
// new one begins.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { api, type JobHead, type Session } from "./api";
import { ask } from "./engine";
import { keep, newID, now, type KeptJob } from "./keep";
import type { Choices } from "./made/answers";
import { address } from "./places";
import { nudge } from "./sync";

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
    void keep.jobs().then(setHeld);
    api.jobs().then((r) => setThere(r.jobs), () => undefined);
  }, []);
  const here = new Set(held.map((j) => j.id));
  const rows = [
    ...held.map((j) => ({ id: j.id, title: j.title, farm: j.farm, note: j.changed ? "changed on this device" : "on this device" })),
    ...there.filter((j) => !here.has(j.id)).map((j) => ({ id: j.id, title: j.title, farm: j.farm, note: "on the server" })),
  ];
  const mayMake = !session?.accounts || ["owner", "estimator"].includes(session.role);
  return (
    <>
      <h1>Jobs</h1>
      <ul class="list grid">
        {rows.map((j) => (
          <li key={j.id} class="sheet">
            <h2>
              <a href={address(j.id, "desk")}>{j.title || "A job without a name"}</a>
            </h2>
            <p>{j.farm}</p>
            <p class="quiet">{j.note}</p>
          </li>
        ))}
      </ul>
      {rows.length === 0 ? <p class="quiet">There is no job yet.</p> : null}
      {mayMake ? <NewJob /> : null}
    </>
  );
}

function NewJob(): JSX.Element {
  const [choices, setChoices] = useState<Choices | undefined>();
  const [trouble, setTrouble] = useState("");
  useEffect(() => {
    ask<Choices>("choices", { job: "" }).then(setChoices, (e: Error) => setTrouble(e.message));
  }, []);
  const begin = async (starter: string): Promise<void> => {
    const text = await ask<string>("starter", { job: "", about: starter });
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
    <section class="stack">
      <h2>Begin a job</h2>
      {trouble ? <p class="told error">{trouble}</p> : null}
      {choices ? null : <p>Starting the engine… <progress /></p>}
      <div class="row">
        {(choices?.starters ?? []).map((s) => (
          <button key={s} onClick={() => void begin(s)}>
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
