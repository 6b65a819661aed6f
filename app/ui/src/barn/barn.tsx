// The measuring sheet as a walk: one question, one big entry, the verdict at once.
import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { ask, Trouble } from "../engine";
import { newID, keep, now, type Rec } from "../keep";
import { language, say } from "../language";
import { unitsOf } from "../lengths";
import type { Question, Verdict, Walk } from "../made/answers";
import { PhotoButton, Photos } from "../photo";
import { address } from "../places";
import type { Work } from "../work";
import { Crossing } from "./crossing";
import { Entry } from "./entry";

export function Barn({ work, at }: { work: Work; at: string }): JSX.Element {
  const [walk, setWalk] = useState<Walk | undefined>();
  const [trouble, setTrouble] = useState("");
  const [me, setMe] = useState<string | undefined>();
  useEffect(() => {
    void keep.get("me").then(setMe);
  }, []);
  const spoken = language();
  useEffect(() => {
    ask<Walk>("walk", { ...work.question(), language: spoken }).then(
      (w) => {
        setWalk(w);
        setTrouble("");
      },
      (t: Trouble) => setTrouble(t.message),
    );
  }, [work.job.text, work.records.length, spoken]);
  if (trouble) return <p class="told error">{trouble}</p>;
  if (!walk || me === undefined) return <p>{say("app.loading")} <progress aria-label={say("app.loading")} /></p>;
  if (!me) return <Who done={setMe} />;
  const questions = walk.questions ?? [];
  const q = questions.find((v) => v.id === at) ?? questions.find((v) => v.id === walk.stands);
  return (
    <div class="walk">
      <div class="row between">
        <h1>{say("app.measure")}</h1>
        <span class="quiet" role="status">
          {say("app.open-waiting", { open: walk.open, waiting: walk.waiting })}
        </span>
      </div>
      {q ? (
        <Ask key={q.id + spoken} work={work} q={q} me={me} go={(id) => (location.hash = address(work.job.id, "barn", id))} />
      ) : (
        <p class="told good">{say("app.all-measured")}</p>
      )}
      <details class="sheet">
        <summary>{say("app.whole-sheet")}</summary>
        <ol class="list">
          {questions.map((v) => (
            <li key={v.id} class={`told ${v.status === "done" ? "good" : v.status === "look again" ? "warning" : ""}`}>
              <a class="target" href={address(work.job.id, "barn", v.id)} {...(v.id === q?.id ? { "aria-current": "step" as const } : {})}>
                {v.no}. {v.ask}
              </a>
              <span class="quiet">
                {(statuses[v.status] ?? statuses["open"]!)()}
                {v.read ? ` · ${v.read}` : ""}
              </span>
            </li>
          ))}
        </ol>
      </details>
    </div>
  );
}

const statuses: Record<string, () => string> = {
  open: () => say("app.status-open"),
  done: () => say("app.status-done"),
  "look again": () => say("app.status-look-again"),
  skipped: () => say("app.status-skipped"),
  waiting: () => say("app.status-waiting"),
};

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
    <form class="sheet narrow" onSubmit={(e) => void go(e)}>
      <h1>{say("app.measure")}</h1>
      <label>
        {say("app.who")}
        <input value={name} maxLength={40} autocomplete="name" required onInput={(e) => setName(e.currentTarget.value)} />
        <small>{say("app.who-why")}</small>
      </label>
      <button class="main huge">{say("app.begin")}</button>
    </form>
  );
}

/** baysOf are the bays of a structure's walls. */
function baysOf(work: Work, structure: string): string[] {
  const d = work.planned?.document;
  const runs = new Set((d?.walls ?? []).filter((w) => w.structure === structure).flatMap((w) => w.runs ?? []));
  return (d?.bays ?? []).filter((b) => runs.has(b.run)).map((b) => b.name);
}

const yesNo = ["ready", "release", "spots", "crossings"];

function Ask({ work, q, me, go }: { work: Work; q: Question; me: string; go: (id: string) => void }): JSX.Element {
  const [verdict, setVerdict] = useState<Verdict | undefined>();
  const [held, setHeld] = useState("");
  const [trouble, setTrouble] = useState("");
  const [busy, setBusy] = useState(false);
  const [more, setMore] = useState<"" | "note" | "crossing">("");
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus({ preventScroll: true }), []);
  const units = unitsOf(work);
  const answer = async (typed: string): Promise<void> => {
    setBusy(true);
    setTrouble("");
    setMore("");
    const stamp = { id: newID(), when: now(), by: me };
    try {
      const v = await ask<Verdict>("answer", { ...work.question(), language: language(), question: q.id, typed, sure: held === typed, ...stamp });
      if (v.entry) {
        const rec: Rec = { id: stamp.id, at: stamp.when, by: me, kind: "note", note: v.entry };
        await work.add(rec);
        setHeld("");
      } else setHeld(typed);
      setVerdict(v);
    } catch (err) {
      setTrouble(err instanceof Error ? err.message : String(err));
    }
    setBusy(false);
  };
  const kept = verdict?.entry !== undefined;
  const said = (
    <>
      {busy ? <progress aria-label={say("app.loading")} /> : null}
      {trouble ? (
        <p class="told error" role="alert">
          {trouble}
        </p>
      ) : null}
      {verdict && !busy ? (
        <div class={`told ${kept ? "good" : "warning"} verdict`} role="alert">
          {(verdict.say ?? []).map((s, i) => (
            <p key={i}>{s}</p>
          ))}
          {(verdict.then ?? []).map((s, i) => (
            <p key={"t" + i} class="follows">
              {s}
            </p>
          ))}
        </div>
      ) : null}
    </>
  );
  const aside = (
    <>
      <div class="row">
        <PhotoButton job={work.job.id} place={q.place} by={me} />
        {kept ? null : (
          <>
            <button disabled={busy} onClick={() => setMore("note")}>{say("app.note")}</button>
            <button disabled={busy} onClick={() => void answer("skip")}>{say("app.leave-open")}</button>
          </>
        )}
      </div>
      <Photos job={work.job.id} place={q.place} />
    </>
  );
  return (
    <section class="ask sheet">
      <p class="quiet row between">
        <b class="at">{q.place}</b>
        <span>{say("app.number-of", { no: q.no, of: q.of })}</span>
      </p>
      <h2 class="question" ref={heading} tabIndex={-1}>
        {q.ask}
      </h2>
      {kept ? null : <p>{q.how}</p>}
      {q.watch && !kept ? <p class="told warning">{q.watch}</p> : null}
      {q.expected && !kept ? (
        <p class="quiet">
          {q.drawn ? say("app.drawn-as", { length: q.expected }) : say("app.others-make", { length: q.expected })}
          {q.read ? <> · {say("app.read-before", { length: q.read })}</> : null}
        </p>
      ) : null}
      {kept ? (
        <>
          {aside}
          <div class="foot">
            {said}
            <button class="main huge" onClick={() => go(verdict?.walk?.stands ?? "")}>
              {verdict?.walk?.stands ? say("app.next") : say("app.done")}
            </button>
          </div>
        </>
      ) : more === "note" ? (
        <NoteForm done={(text) => void answer("note " + text)} back={() => setMore("")} />
      ) : more === "crossing" ? (
        <Crossing bays={baysOf(work, q.place)} units={units} busy={busy} done={(typed) => void answer(typed)} back={() => setMore("")} />
      ) : yesNo.includes(q.kind) ? (
        <>
          {aside}
          <div class="foot">
            {said}
            <div class="two">
              <button class="main huge" disabled={busy} onClick={() => (q.kind === "crossings" ? setMore("crossing") : void answer("yes"))}>{say("app.yes")}</button>
              <button class="huge" disabled={busy} onClick={() => void answer("no")}>{say("app.no")}</button>
            </div>
          </div>
        </>
      ) : (
        <Entry
          units={units}
          small={q.kind === "small"}
          start={q.expected_nm}
          busy={busy}
          told={said}
          take={(reading) => (held === reading ? say("app.keep-doubted", { reading }) : say("app.keep-reading", { reading }))}
          done={(t) => void answer(t)}
        >
          {aside}
        </Entry>
      )}
    </section>
  );
}

/** NoteForm takes a note about the place; the notebook keeps one line. */
function NoteForm({ done, back }: { done: (text: string) => void; back: () => void }): JSX.Element {
  const [text, setText] = useState("");
  const line = text.replace(/\s+/g, " ").trim();
  return (
    <>
      <label>
        {say("app.note-what")}
        <textarea rows={3} maxLength={500} value={text} onInput={(e) => setText(e.currentTarget.value)} />
      </label>
      <div class="two">
        <button class="main huge" disabled={!line} onClick={() => done(line)}>{say("app.write-down")}</button>
        <button class="huge" onClick={back}>{say("app.back")}</button>
      </div>
    </>
  );
}
