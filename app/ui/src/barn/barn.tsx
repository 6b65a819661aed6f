// The measuring sheet as a walk: one question, one big entry, the verdict at once.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { ask, Trouble } from "../engine";
import { newID, keep, now, type Rec } from "../keep";
import type { Units } from "../lengths";
import type { Question, Verdict, Walk } from "../made/answers";
import { PhotoButton } from "../photo";
import { address } from "../places";
import type { Work } from "../work";
import { Entry } from "./entry";

export function Barn({ work, at }: { work: Work; at: string }): JSX.Element {
  const [walk, setWalk] = useState<Walk | undefined>();
  const [trouble, setTrouble] = useState("");
  const [me, setMe] = useState<string | undefined>();
  useEffect(() => {
    void keep.get("me").then(setMe);
  }, []);
  useEffect(() => {
    ask<Walk>("walk", work.question()).then(
      (w) => {
        setWalk(w);
        setTrouble("");
      },
      (t: Trouble) => setTrouble(t.message),
    );
  }, [work.job.text, work.records.length]);
  if (trouble) return <p class="told error">{trouble}</p>;
  if (!walk || me === undefined) return <p>Opening the sheet… <progress /></p>;
  if (!me) return <Who done={setMe} />;
  const questions = walk.questions ?? [];
  const q = questions.find((v) => v.id === at) ?? questions.find((v) => v.id === walk.stands);
  return (
    <div class="walk">
      <div class="row">
        <h1>Measure</h1>
        <span class="quiet" role="status">
          {walk.open} open, {walk.waiting} waiting
        </span>
      </div>
      {q ? <Ask key={q.id} work={work} q={q} me={me} go={(id) => (location.hash = address(work.job.id, "barn", id))} /> : <p class="told good">All is measured and released.</p>}
      <details class="sheet">
        <summary>The whole sheet</summary>
        <ol class="list">
          {questions.map((v) => (
            <li key={v.id} class={`told ${v.status === "done" ? "good" : v.status === "look again" ? "warning" : ""}`}>
              <a href={address(work.job.id, "barn", v.id)}>
                {v.no}. {v.ask}
              </a>{" "}
              <span class="quiet">
                {v.status}
                {v.read ? `, read ${v.read}` : ""}
              </span>
            </li>
          ))}
        </ol>
      </details>
    </div>
  );
}

function Who({ done }: { done: (me: string) => void }): JSX.Element {
  const [name, setName] = useState("");
  const go = async (e: Event): Promise<void> => {
    e.preventDefault();
    const me = name.trim().slice(0, 40);
    if (!me) return;
    await keep.set("me", me);
    done(me);
  };
  return (
    <form class="sheet" onSubmit={(e) => void go(e)}>
      <label>
        Who measures?
        <input value={name} maxLength={40} autocomplete="name" onInput={(e) => setName(e.currentTarget.value)} />
        <small>Your name stands beside every reading.</small>
      </label>
      <button class="main">Begin</button>
    </form>
  );
}

function Ask({ work, q, me, go }: { work: Work; q: Question; me: string; go: (id: string) => void }): JSX.Element {
  const [verdict, setVerdict] = useState<Verdict | undefined>();
  const [held, setHeld] = useState("");
  const [trouble, setTrouble] = useState("");
  const [busy, setBusy] = useState(false);
  const units = (work.planned?.document.job.units ?? "feet") as Units;
  const answer = async (typed: string): Promise<void> => {
    setBusy(true);
    setTrouble("");
    const stamp = { id: newID(), when: now(), by: me };
    try {
      const v = await ask<Verdict>("answer", { ...work.question(), question: q.id, typed, sure: held === typed, ...stamp });
      if (v.entry) {
        const rec: Rec = { id: stamp.id, at: stamp.when, by: me, kind: "note", note: v.entry };
        await work.add(rec);
        setHeld("");
        setVerdict(v);
      } else {
        setHeld(typed);
        setVerdict(v);
      }
    } catch (err) {
      setTrouble(err instanceof Error ? err.message : String(err));
    }
    setBusy(false);
  };
  const kept = verdict?.entry !== undefined;
  return (
    <section class="ask sheet">
      <p class="quiet">
        {q.no} of {q.of} · {q.place}
      </p>
      <h2 class="question">{q.ask}</h2>
      <p>{q.how}</p>
      {q.watch ? <p class="told warning">{q.watch}</p> : null}
      {q.expected ? (
        <p class="quiet">
          {q.drawn ? "Drawn" : "Others make it"}: {q.expected}
          {q.read ? <>; read before: {q.read}</> : null}
        </p>
      ) : null}
      {trouble ? (
        <p class="told error" role="alert">
          {trouble}
        </p>
      ) : null}
      {verdict ? (
        <div class={`told ${kept ? "good" : "warning"}`} role="alert">
          {(verdict.say ?? []).map((s, i) => (
            <p key={i}>{s}</p>
          ))}
          {(verdict.then ?? []).map((s, i) => (
            <p key={"t" + i}>
              <b>{s}</b>
            </p>
          ))}
        </div>
      ) : null}
      {kept ? (
        <button class="main huge" onClick={() => go(verdict?.walk?.stands ?? "")}>
          {verdict?.walk?.stands ? "Next" : "Done"}
        </button>
      ) : q.kind === "ready" || q.kind === "release" ? (
        <div class="row">
          <button class="main huge" disabled={busy} onClick={() => void answer("yes")}>Yes</button>
          <button class="huge" disabled={busy} onClick={() => void answer("no")}>No</button>
        </div>
      ) : (
        <Entry units={units} small={q.kind === "small"} start={q.expected_nm} busy={busy} again={held} done={(t) => void answer(t)} />
      )}
      <div class="row">
        <button onClick={() => void answer("skip")}>Leave open</button>
        <PhotoButton job={work.job.id} place={q.place} by={me} />
      </div>
    </section>
  );
}
