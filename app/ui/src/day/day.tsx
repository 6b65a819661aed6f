// The steps of the work, ticked off one by one.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { ask } from "../engine";
import { keep } from "../keep";
import type { Step, Steps } from "../made/answers";
import { Model } from "../desk/model";
import { PhotoButton } from "../photo";
import { address } from "../places";
import type { Work } from "../work";

export function Day({ work, at }: { work: Work; at: string }): JSX.Element {
  const [steps, setSteps] = useState<Steps | undefined>();
  const [trouble, setTrouble] = useState("");
  const [language, setLanguage] = useState("");
  const [me, setMe] = useState("");
  useEffect(() => {
    void keep.get("language").then(setLanguage);
    void keep.get("me").then(setMe);
  }, []);
  useEffect(() => {
    ask<Steps>("steps", { ...work.question(), records: work.records.map((r) => r.record), ...(language ? { language } : {}) }).then(setSteps, (e: Error) => setTrouble(e.message));
  }, [work.job.text, work.records.length, language]);
  if (trouble) return <p class="told error">{trouble}</p>;
  if (!steps) return <p>Putting the steps in order… <progress /></p>;
  const all = steps.steps ?? [];
  const i = all.findIndex((s) => (at ? s.id === at : !s.done));
  const step = all[i];
  const done = all.filter((s) => s.done).length;
  const go = (n: number): string => address(work.job.id, "day", all[Math.min(Math.max(n, 0), all.length - 1)]?.id ?? "");
  return (
    <div class="day">
      <div class="row">
        <h1>Steps</h1>
        <span role="status">
          {done} of {all.length} done
        </span>
        <label class="inline">
          Language
          <select
            value={language}
            onChange={(e) => {
              setLanguage(e.currentTarget.value);
              void keep.set("language", e.currentTarget.value);
            }}
          >
            <option value="">the job's</option>
            <option value="en">English</option>
            <option value="es">español</option>
          </select>
        </label>
      </div>
      <progress max={all.length} value={done} aria-label="Steps done" />
      {step ? (
        <>
          <StepView key={step.id} work={work} step={step} me={me} />
          <Model work={work} at="" choose={() => undefined} upTo={all.slice(0, i).flatMap((s) => s.adds ?? [])} adds={step.adds ?? []} />
        </>
      ) : (
        <p class="told good">All steps are done. Check off and sign on the papers.</p>
      )}
      <div class="row">
        <a class="button" href={go(i - 1)}>← Step before</a>
        <a class="button" href={go(i + 1)}>Next step →</a>
      </div>
      <details class="sheet">
        <summary>All steps</summary>
        <ol class="list">
          {all.map((s) => (
            <li key={s.id} class={`told ${s.done ? "good" : ""}`}>
              <a href={address(work.job.id, "day", s.id)}>
                {s.no}. {s.title}
              </a>
              {s.done ? <span class="quiet"> done{s.by ? ` by ${s.by}` : ""}</span> : null}
            </li>
          ))}
        </ol>
      </details>
      {(steps.problems ?? []).filter((p) => !p.solved).length ? (
        <section class="sheet">
          <h2>Open problems</h2>
          <ul class="list">
            {(steps.problems ?? []).filter((p) => !p.solved).map((p) => (
              <li key={p.id} class="told warning">
                {p.place ? <b>{p.place}: </b> : null}
                {p.text} <span class="quiet">{p.by}</span>
              </li>
            ))}
          </ul>
        </section>
      ) : null}
    </div>
  );
}

function StepView({ work, step, me }: { work: Work; step: Step; me: string }): JSX.Element {
  const [problem, setProblem] = useState<string | undefined>();
  const tick = async (done: boolean): Promise<void> => {
    const rec = await work.stamp("step");
    await work.add({ ...rec, step: { step: step.id, done } });
  };
  const tell = async (): Promise<void> => {
    const rec = await work.stamp("problem");
    await work.add({ ...rec, problem: { step: step.id, place: step.place, text: problem!.trim() } });
    setProblem(undefined);
  };
  return (
    <section class="sheet step">
      <h2>
        {step.no}. {step.title}
      </h2>
      {(step.operations ?? []).map((o) => (
        <div key={o.id} class="operation">
          <h3>{o.do}</h3>
          {(o.how ?? []).map((h) => (
            <p key={h}>{h}</p>
          ))}
          <dl class="needs">
            <Need name="Parts" list={o.parts} />
            <Need name="Fasteners" list={o.bolts} />
            <Need name="Tools" list={o.tools} />
          </dl>
          <p class="quiet">
            {o.people} × {o.time}
          </p>
          {o.check ? <p class="told">{o.check}</p> : null}
          {(o.cautions ?? []).map((c) => (
            <p key={c} class="told warning">
              {c}
            </p>
          ))}
        </div>
      ))}
      {problem === undefined ? (
        <div class="row">
          {step.done ? <button onClick={() => void tick(false)}>Not done after all</button> : <button class="main huge" onClick={() => void tick(true)}>Done</button>}
          <button onClick={() => setProblem("")}>A problem</button>
          <PhotoButton job={work.job.id} place={step.place} by={me} />
        </div>
      ) : (
        <div class="stack">
          <label>
            What is wrong?
            <textarea maxLength={2000} value={problem} onInput={(e) => setProblem(e.currentTarget.value)} />
          </label>
          <div class="row">
            <button class="main" disabled={!problem.trim()} onClick={() => void tell()}>Write it down</button>
            <button onClick={() => setProblem(undefined)}>Back</button>
          </div>
        </div>
      )}
    </section>
  );
}

function Need({ name, list }: { name: string; list: string[] | null }): JSX.Element | null {
  if (!list?.length) return null;
  return (
    <>
      <dt>{name}</dt>
      <dd>{list.join(", ")}</dd>
    </>
  );
}
