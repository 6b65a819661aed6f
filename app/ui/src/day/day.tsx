// The steps of the work, each with its picture, ticked off one by one.
import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { Entry } from "../barn/entry";
import { Model } from "../desk/model";
import { ask } from "../engine";
import { keep } from "../keep";
import { language, say } from "../language";
import { show, unitsOf, type Units } from "../lengths";
import type { Operation, Step, Steps } from "../made/answers";
import { PhotoButton, Photos } from "../photo";
import { address } from "../places";
import { SignOff } from "../signoff";
import type { Work } from "../work";
import { Picture } from "./picture";
import { Progress } from "./progress";

export function Day({ work, at }: { work: Work; at: string }): JSX.Element {
  const [steps, setSteps] = useState<Steps | undefined>();
  const [trouble, setTrouble] = useState("");
  const [me, setMe] = useState("");
  const [model, setModel] = useState(false);
  const tongue = language();
  useEffect(() => {
    void keep.get("me").then(setMe);
  }, []);
  useEffect(() => {
    let gone = false;
    ask<Steps>("steps", { ...work.question(), records: work.records.map((r) => r.record), language: tongue }).then(
      (s) => !gone && (setSteps(s), setTrouble("")),
      (e: Error) => !gone && setTrouble(e.message),
    );
    return () => {
      gone = true;
    };
  }, [work.job.text, work.records.length, tongue]);
  if (trouble) return <p class="told error">{trouble}</p>;
  if (!steps) {
    return (
      <p role="status">
        {say("app.ordering")} <progress />
      </p>
    );
  }
  const all = steps.steps ?? [];
  const i = all.findIndex((s) => (at ? s.id === at : !s.done));
  const step = all[i];
  const left = all.filter((s) => !s.done).length;
  const open = (steps.problems ?? []).filter((p) => !p.solved);
  const go = (n: number): string => address(work.job.id, "day", all[Math.min(Math.max(n, 0), all.length - 1)]?.id ?? "");
  return (
    <div class="day">
      <div class="row between">
        <h1>{say("app.steps")}</h1>
        <span role="status">{say("app.steps-done", { done: all.length - left, of: all.length })}</span>
      </div>
      <progress max={all.length} value={all.length - left} aria-label={say("app.steps")} />
      {step ? (
        <StepView
          key={step.id}
          work={work}
          step={step}
          me={me}
          done={() => {
            if (!at) return; // the next open one comes up by itself
            const next = all.findIndex((s, n) => n > i && !s.done);
            location.hash = address(work.job.id, "day", all[next]?.id ?? "");
          }}
        />
      ) : (
        <>
          <p class="told good">{say("app.all-steps-done")}</p>
          <SignOff work={work} left={left} problems={open.length} />
        </>
      )}
      <nav class="row between" aria-label={say("app.all-steps")}>
        <a class="button" href={go((step ? i : all.length) - 1)}>← {say("app.step-before")}</a>
        {i < all.length - 1 && step ? <a class="button" href={go(i + 1)}>{say("app.step-next")} →</a> : null}
      </nav>
      {work.planned ? <Progress document={work.planned.document} steps={all} now={step} job={work.job.id} /> : null}
      {step ? (
        <details class="sheet" onToggle={(e) => setModel(e.currentTarget.open)}>
          <summary>{say("app.in-space")}</summary>
          {model ? <Model work={work} at="" choose={() => undefined} step={i} language={tongue} near /> : null}
        </details>
      ) : null}
      <details class="sheet">
        <summary>{say("app.all-steps")}</summary>
        <ol class="list">
          {all.map((s) => (
            <li key={s.id} class={`told ${s.done ? "good" : ""}`}>
              <a class="target" href={address(work.job.id, "day", s.id)} {...(s === step ? { "aria-current": "step" as const } : {})}>
                {s.no}. {s.title}
              </a>
              {s.done && s.by ? <span class="quiet"> {say("app.done-by", { name: s.by })}</span> : null}
              {s.note ? <p class="quiet">{s.note}</p> : null}
            </li>
          ))}
        </ol>
      </details>
      {open.length ? (
        <section class="sheet">
          <h2>{say("app.problems-open")}</h2>
          <ul class="list">
            {open.map((p) => (
              <li key={p.id} class="told warning stack">
                <p dir="auto">
                  {p.place ? <b>{p.place}: </b> : null}
                  {p.text} <span class="quiet">{p.by}</span>
                </p>
                {p.photos?.length ? <Photos job={work.job.id} place={p.place ?? ""} ids={p.photos} /> : null}
                <div class="row">
                  {p.step && all.some((s) => s.id === p.step) ? <a class="button" href={address(work.job.id, "day", p.step)}>{all.find((s) => s.id === p.step)!.title}</a> : null}
                  <button onClick={() => void solve(work, p)}>{say("app.solved")}</button>
                </div>
              </li>
            ))}
          </ul>
        </section>
      ) : null}
    </div>
  );
}

async function solve(work: Work, p: { step?: string; place?: string }): Promise<void> {
  const rec = await work.stamp("problem");
  await work.add({ ...rec, problem: { ...(p.step ? { step: p.step } : {}), ...(p.place ? { place: p.place } : {}), text: "", solved: true } });
}

function StepView({ work, step, me, done }: { work: Work; step: Step; me: string; done: () => void }): JSX.Element {
  const [problem, setProblem] = useState(false);
  const top = useRef<HTMLHeadingElement>(null);
  useEffect(() => top.current?.focus({ preventScroll: true }), []);
  const tick = async (is: boolean, note = step.note): Promise<void> => {
    const rec = await work.stamp("step");
    await work.add({ ...rec, step: { step: step.id, done: is, ...(note ? { note } : {}) } });
  };
  const units = unitsOf(work);
  return (
    <section class="sheet step">
      <h2 ref={top} tabIndex={-1}>
        {step.no}. {step.title}
      </h2>
      <Picture work={work} step={step.id} title={step.title} language={language()} />
      {(step.operations ?? []).map((o) => (
        <OperationView key={o.id} o={o} units={units} keep={(note) => void tick(step.done, step.note ? `${step.note}; ${note}` : note)} />
      ))}
      {step.note ? <p class="told good" dir="auto">{step.note}</p> : null}
      <Photos job={work.job.id} place={step.id} />
      {step.place && step.place !== step.id ? <Photos job={work.job.id} place={step.place} /> : null}
      {problem ? (
        <Problem work={work} step={step} me={me} back={() => setProblem(false)} />
      ) : (
        <div class="row foot-row">
          {step.done ? (
            <button onClick={() => void tick(false)}>{say("app.not-done")}</button>
          ) : (
            <button class="main huge" onClick={() => void tick(true).then(done)}>
              {say("app.done")}
            </button>
          )}
          <button onClick={() => setProblem(true)}>{say("app.problem")}</button>
          <PhotoButton job={work.job.id} place={step.id} by={me} />
        </div>
      )}
    </section>
  );
}

/** Problem is what is wrong at a step, with photos. */
function Problem({ work, step, me, back }: { work: Work; step: Step; me: string; back: () => void }): JSX.Element {
  const [text, setText] = useState("");
  const [photos, setPhotos] = useState<string[]>([]);
  const box = useRef<HTMLTextAreaElement>(null);
  useEffect(() => box.current?.focus(), []);
  const tell = async (): Promise<void> => {
    const rec = await work.stamp("problem");
    await work.add({ ...rec, problem: { step: step.id, place: step.place, text: text.trim(), ...(photos.length ? { photos } : {}) } });
    back();
  };
  return (
    <div class="stack">
      <label>
        {say("app.problem-what")}
        <textarea ref={box} dir="auto" maxLength={2000} value={text} onInput={(e) => setText(e.currentTarget.value)} />
      </label>
      <Photos job={work.job.id} place={step.id} ids={photos} />
      <div class="row">
        <button class="main" disabled={!text.trim() && !photos.length} onClick={() => void tell()}>
          {say("app.write-down")}
        </button>
        <PhotoButton job={work.job.id} place={step.id} by={me} kept={(id) => setPhotos((all) => [...all, id])} />
        <button onClick={back}>{say("app.back")}</button>
      </div>
    </div>
  );
}

function OperationView({ o, units, keep: put }: { o: Operation; units: Units; keep: (note: string) => void }): JSX.Element {
  const [reads, setReads] = useState(false);
  return (
    <div class="operation">
      <h3>{o.do}</h3>
      {(o.how ?? []).map((h) => (
        <p key={h}>{h}</p>
      ))}
      <dl class="needs">
        <Need name={say("app.parts")} list={o.parts} />
        <Need name={say("app.fasteners")} list={o.bolts} />
        <Need name={say("app.tools")} list={o.tools} />
      </dl>
      <p class="quiet">{say("app.crew-time", { people: o.people, time: o.time })}</p>
      {o.check ? (
        <div class="told stack">
          <p>
            {o.check}
            {o.check_nm ? (
              <>
                : <b>{show(o.check_nm, units)}</b>
              </>
            ) : null}
          </p>
          {o.check_nm && !reads ? <button onClick={() => setReads(true)}>{say("app.record-measure")}</button> : null}
          {o.check_nm && reads ? (
            <>
              <Entry
                units={units}
                small={false}
                start={o.check_nm}
                busy={false}
                take={(r) => `${say("app.write-down")}: ${r}`}
                done={(typed) => {
                  put(`${o.do}: ${typed} (${show(o.check_nm!, units)})`);
                  setReads(false);
                }}
              />
              <button onClick={() => setReads(false)}>{say("app.back")}</button>
            </>
          ) : null}
        </div>
      ) : null}
      {(o.cautions ?? []).map((c) => (
        <p key={c} class="told warning">
          {c}
        </p>
      ))}
    </div>
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
