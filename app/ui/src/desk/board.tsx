// The drawing board: the plan to work on, what is chosen beside it, and what follows
// from it. Everything can be done from the keyboard.
import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { ask } from "../engine";
import type { KitChoice } from "../made/answers";
import { address } from "../places";
import type { Work } from "../work";
import { Chosen } from "./chosen";
import { copyRow, findRoom, freeName } from "./edits";
import { Elevation } from "./elevation";
import { Figures } from "./figures";
import { Goods } from "./goods";
import { fillBay, flip } from "./fills";
import { Findings } from "./findings";
import { Help } from "./help";
import { Build } from "./model";
import { PlanView } from "./planview";
import { dropRoomAt, splitRoom, joinRoom, addRoomAt } from "./rooms";
import { TextView } from "./textview";
import { Why } from "./why";

type View = "plan" | "model" | "text";

export function Board({ work, at: asked }: { work: Work; at: string }): JSX.Element {
  const [kit, setKit] = useState<KitChoice | undefined>();
  const [view, setView] = useState<View>("plan");
  const [help, setHelp] = useState(false);
  const [told, setTold] = useState("");
  const side = useRef<HTMLElement>(null);
  const d = work.planned?.document;
  // A label's code names a piece: its bay is chosen, or the first of its wall.
  const piece = asked.includes("/") ? asked : "";
  const named = asked.split("/")[0]!;
  const at = d && !d.bays?.some((b) => b.name === named) ? (d.runs?.find((r) => r.name === named)?.bays?.[0] ?? named) : named;
  const choose = (name: string): void => {
    if (name !== asked) location.hash = address(work.job.id, "desk", name);
  };
  useEffect(() => {
    ask<KitChoice>("kit", work.question()).then(setKit, () => undefined);
  }, [d?.job.kit, work.shelf]);
  useEffect(() => {
    const key = (e: KeyboardEvent): void => {
      const typing = (e.target as HTMLElement).closest("input, textarea, select");
      if (typing) return;
      if (e.key === "?" && !e.ctrlKey && !e.metaKey) setHelp(true);
      else if (!(e.ctrlKey || e.metaKey)) return;
      else if (e.key === "z" && !e.shiftKey) void work.undo();
      else if (e.key === "y" || (e.key.toLowerCase() === "z" && e.shiftKey)) void work.redo();
      else return;
      e.preventDefault();
    };
    addEventListener("keydown", key);
    return () => removeEventListener("keydown", key);
  }, [work]);

  /** act does what a letter means to what has the focus on the drawing. */
  const act = (key: string, name: string): boolean => {
    if (!d) return false;
    const text = work.job.text;
    let to: string | undefined;
    const bay = d.bays?.find((b) => b.name === name);
    if (bay && key in fillBay) to = fillBay[key]!(text, bay);
    else if (bay && key === "d") to = flip(text, d, bay);
    else if (name.startsWith("room ") && "sjan".includes(key)) to = { s: splitRoom, j: joinRoom, a: addRoomAt, n: addRoomAt }[key as "s"](text, d, name.slice(5));
    else if (name.startsWith("room ") && (key === "Delete" || key === "Backspace")) to = dropRoomAt(text, d, name.slice(5));
    else if (name.startsWith("room ") && key === "c") {
      const s = findRoom(text, d, name.slice(5))?.structure.name;
      to = s === undefined ? undefined : copyRow(text, s, freeName(text));
    } else return false;
    if (to === undefined) setTold(`That cannot be done with ${name}.`);
    else {
      setTold("");
      if (bay) choose(name);
      void work.write(to);
    }
    return true;
  };
  return (
    <>
      <div class="row between no-print">
        <h1>{d?.job.job ?? work.job.title}</h1>
        <div class="row">
          <div class="row" role="group" aria-label="View">
            {(["plan", "model", "text"] as const).map((v) => (
              <button key={v} aria-pressed={view === v} onClick={() => setView(v)}>
                {{ plan: "Plan", model: "In space", text: "Text" }[v]}
              </button>
            ))}
          </div>
          <button disabled={!work.canUndo} onClick={() => void work.undo()} title="Ctrl Z">Undo</button>
          <button disabled={!work.canRedo} onClick={() => void work.redo()} title="Ctrl Y">Redo</button>
          <button onClick={() => setHelp(true)} title="?">Keys</button>
        </div>
      </div>
      <Standing work={work} told={told} />
      <Trouble work={work} />
      {!d && !work.trouble ? (
        <p role="status">
          Working the job through… <progress />
        </p>
      ) : null}
      {view === "text" ? <TextView work={work} /> : null}
      {view === "model" && d ? <Build work={work} at={at} choose={choose} /> : null}
      {view === "plan" && d ? (
        <div class="desk">
          <div class="stack">
            <PlanView work={work} document={d} at={at} choose={choose} act={act} enter={() => setTimeout(() => side.current?.querySelector<HTMLElement>("button:not(:disabled), select, input")?.focus(), 60)} />
            <Elevation work={work} at={at} />
          </div>
          <aside class="stack" ref={side} aria-label="What is chosen, and what it takes">
            <Chosen work={work} document={d} kit={kit} at={at} choose={choose} />
            <Why work={work} at={at} piece={piece} />
            <Figures work={work} document={d} />
            <Goods work={work} />
            <Findings work={work} document={d} kit={kit} choose={choose} />
          </aside>
        </div>
      ) : null}
      {!d && work.trouble ? <Goods work={work} /> : null}
      {help ? <Help close={() => setHelp(false)} /> : null}
    </>
  );
}

/** Standing says how far the plan is. */
function Standing({ work, told }: { work: Work; told: string }): JSX.Element {
  const says = {
    seen: "As it was when you last looked; working it through…",
    fitting: "Fitting…",
    proving: `Fitted in ${work.took} ms; proving the lumber and ordering the work…`,
    done: work.planned ? "Worked through." : "",
  }[work.stage];
  return (
    <p class={`standing quiet ${work.stage === "done" ? "" : "busy"}`} role="status">
      {told || says}
    </p>
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
      <div class="row">
        {work.canUndo ? <button onClick={() => void work.undo()}>Take the last change back</button> : null}
        <span class="hint">The drawing shows the last state that could be planned.</span>
      </div>
    </section>
  );
}
