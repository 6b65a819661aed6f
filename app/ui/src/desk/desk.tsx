// The desk: the plan to work on, what is chosen beside it, and what follows from
// it. Everything can be done from the keyboard.
import type { JSX } from "preact";
import { useEffect, useMemo, useState } from "preact/hooks";
import { ask } from "../engine";
import type { Drawing, KitChoice, Reason } from "../made/answers";
import { address } from "../places";
import type { Work } from "../work";
import { Chosen } from "./chosen";
import { Figures, Findings } from "./figures";
import { Model } from "./model";
import { PlanView } from "./planview";
import { TextView } from "./textview";

export function Desk({ work, at }: { work: Work; at: string }): JSX.Element {
  const [kit, setKit] = useState<KitChoice | undefined>();
  const [view, setView] = useState<"plan" | "model" | "text">("plan");
  const choose = (name: string): void => {
    location.hash = address(work.job.id, "desk", name);
  };
  useEffect(() => {
    ask<KitChoice>("kit", work.question()).then(setKit, () => undefined);
  }, [work.planned?.document.job.kit]);
  useEffect(() => {
    const key = (e: KeyboardEvent): void => {
      const typing = (e.target as HTMLElement).closest("input, textarea, select");
      if (typing || !(e.ctrlKey || e.metaKey)) return;
      if (e.key === "z" && !e.shiftKey) void work.undo();
      else if (e.key === "y" || (e.key === "z" && e.shiftKey)) void work.redo();
      else return;
      e.preventDefault();
    };
    addEventListener("keydown", key);
    return () => removeEventListener("keydown", key);
  }, [work]);
  const d = work.planned?.document;
  return (
    <>
      <div class="row no-print">
        <h1>{d?.job.job ?? work.job.title}</h1>
        <div class="row" role="group" aria-label="View">
          <button aria-pressed={view === "plan"} onClick={() => setView("plan")}>Plan</button>
          <button aria-pressed={view === "model"} onClick={() => setView("model")}>In space</button>
          <button aria-pressed={view === "text"} onClick={() => setView("text")}>Text</button>
        </div>
        <button disabled={!work.canUndo} onClick={() => void work.undo()}>Undo</button>
        <button disabled={!work.canRedo} onClick={() => void work.redo()}>Redo</button>
        <span class="quiet" role="status">{work.planning ? "Planning…" : d ? `Planned in ${work.took} ms` : ""}</span>
      </div>
      <Trouble work={work} />
      {view === "text" ? <TextView work={work} /> : null}
      {view === "model" && d ? <Model work={work} at={at} choose={choose} /> : null}
      {view === "plan" && d ? (
        <div class="desk">
          <div class="stack">
            <PlanView work={work} document={d} at={at} choose={choose} />
            <Elevation work={work} at={at} />
          </div>
          <aside class="stack">
            <Chosen work={work} document={d} kit={kit} at={at} choose={choose} />
            <Why work={work} at={at} />
            <Figures work={work} document={d} />
            <Findings document={d} choose={choose} />
          </aside>
        </div>
      ) : null}
    </>
  );
}

function Trouble({ work }: { work: Work }): JSX.Element | null {
  const t = work.trouble;
  if (!t) return null;
  return (
    <section class="told error stack" role="alert">
      <h2>{t.problems.length === 1 ? "One thing in the text is wrong" : t.problems.length ? `${t.problems.length} things in the text are wrong` : "It could not be planned"}</h2>
      {t.problems.length ? (
        <ul class="list">
          {t.problems.map((p, i) => (
            <li key={i}>
              {p.line ? <b>Line {p.line}: </b> : null}
              {p.message}
              {p.hint ? <span class="hint"> Right would be: {p.hint}.</span> : null}
            </li>
          ))}
        </ul>
      ) : (
        <p>{t.message}</p>
      )}
      <p class="hint">The drawing shows the last state that could be planned.</p>
    </section>
  );
}

/** Elevation is the wall of what is chosen, as it is printed. */
function Elevation({ work, at }: { work: Work; at: string }): JSX.Element | null {
  const [sheets, setSheets] = useState<Drawing[]>([]);
  const run = useMemo(() => work.planned?.document.bays?.find((b) => b.name === at)?.run ?? at, [work.planned, at]);
  useEffect(() => {
    if (!run) {
      setSheets([]);
      return;
    }
    let gone = false;
    const soon = setTimeout(() => {
      ask<Drawing[]>("drawings", { ...work.question(), about: run }).then((s) => !gone && setSheets(s.filter((v) => !v.name.startsWith("plan"))), () => undefined);
    }, 300);
    return () => {
      gone = true;
      clearTimeout(soon);
    };
  }, [run, work.planned]);
  const url = useMemo(() => sheets.map((s) => ({ title: s.title, url: URL.createObjectURL(new Blob([s.svg], { type: "image/svg+xml" })) })), [sheets]);
  useEffect(() => () => url.forEach((u) => URL.revokeObjectURL(u.url)), [url]);
  if (!url.length) return null;
  return (
    <section class="sheet">
      {url.map((u) => (
        <figure key={u.url}>
          <figcaption class="quiet">{u.title}</figcaption>
          <img class="paper" src={u.url} alt={`Elevation: ${u.title}`} />
        </figure>
      ))}
    </section>
  );
}

function Why({ work, at }: { work: Work; at: string }): JSX.Element | null {
  const [reasons, setReasons] = useState<Reason[] | undefined>();
  const [asked, setAsked] = useState(false);
  useEffect(() => {
    setReasons(undefined);
    setAsked(false);
  }, [at, work.planned]);
  if (!at) return null;
  const show = async (): Promise<void> => {
    setAsked(true);
    setReasons(await ask<Reason[]>("why", { ...work.question(), about: at }).catch(() => []));
  };
  return (
    <section class="sheet">
      {asked ? (
        <>
          <h2>Why {at}</h2>
          {reasons === undefined ? <progress /> : null}
          {(reasons ?? []).map((r, i) => (
            <div key={i}>
              <h3>{r.title}</h3>
              <ul class="chain">
                {(r.lines ?? []).map((l, n) => (
                  <li key={n}>{l}</li>
                ))}
              </ul>
            </div>
          ))}
          {reasons?.length === 0 ? <p class="quiet">Nothing to tell about it.</p> : null}
        </>
      ) : (
        <button onClick={() => void show()}>Why these numbers?</button>
      )}
    </section>
  );
}
