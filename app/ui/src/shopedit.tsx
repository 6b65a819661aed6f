// One file of the shop as text, read as the command line reads it while one writes.
import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { call, NoSignal, Refused } from "./api";
import { ask, Trouble, type Problem } from "./engine";
import type { Checked } from "./made/answers";
import { Difference } from "./revisions";
import { difference } from "./lines";
import { office } from "./session";
import { at, type Kind } from "./shelf";

interface Props {
  kind: Kind;
  name: string;
  text: string;
  /** The revision that it was made from; empty for a new file. */
  tag: string;
  done: () => Promise<void>;
}

/** calm is how long nothing must be typed before the text is read, in milliseconds. */
const calm = 300;

export function Editor(p: Props): JSX.Element {
  const [name, setName] = useState(p.name);
  const [text, setText] = useState(p.text);
  const [note, setNote] = useState("");
  const [tag, setTag] = useState(p.tag);
  const [problems, setProblems] = useState<Problem[]>([]);
  const [title, setTitle] = useState("");
  const [told, setTold] = useState("");
  const [theirs, setTheirs] = useState<{ text: string; tag: string; merged?: string } | undefined>();
  const area = useRef<HTMLTextAreaElement>(null);
  useEffect(() => {
    let gone = false;
    const soon = setTimeout(() => {
      const file = p.kind + "/" + name;
      ask<Checked>("check", { job: "", about: file, shop: { [file]: text } }).then(
        (c) => {
          if (gone) return;
          setTitle(c.title);
          setProblems([]);
        },
        (err: Error) => {
          if (gone) return;
          setTitle("");
          setProblems(err instanceof Trouble && err.problems.length ? err.problems : [{ file: name, message: err.message }]);
        },
      );
    }, calm);
    return () => {
      gone = true;
      clearTimeout(soon);
    };
  }, [text, name]);
  const go = (line: number, column: number): void => {
    const t = area.current;
    if (!t) return;
    const lines = text.split("\n");
    const before = lines.slice(0, line - 1).join("\n");
    const spot = Math.min((line > 1 ? before.length + 1 : 0) + [...(lines[line - 1] ?? "")].slice(0, Math.max(column - 1, 0)).join("").length, text.length);
    t.focus();
    t.setSelectionRange(spot, spot);
    t.scrollTop = Math.max(0, (t.scrollHeight * (line - 4)) / Math.max(lines.length, 1));
  };
  const save = async (what: string, from: string): Promise<void> => {
    try {
      await call("PUT", at(p.kind, name), { text: what, ...(note ? { note } : {}) }, from ? { "If-Match": `"${from}"` } : { "If-None-Match": "*" });
      await p.done();
    } catch (err) {
      if (err instanceof NoSignal) setTold("No signal: keep this page open and save it where there is some, or download nothing and lose nothing: the text stays here.");
      else if (err instanceof Refused && err.status === 412) {
        const { now, merged } = err.body as { now?: { text: string; tag: string }; merged?: string };
        if (now) setTheirs({ text: now.text, tag: now.tag, ...(merged ? { merged } : {}) });
        setTold(from ? "Somebody else saved this file meanwhile. Nothing was overwritten." : "The shop has a file of this name already. Nothing was overwritten.");
      } else if (err instanceof Refused && err.status === 422) {
        const list = (err.body as { errors?: { message?: string; line?: number; column?: number; hint?: string }[] }).errors ?? [];
        setProblems(list.map((e) => ({ file: name, message: e.message ?? "", ...(e.line ? { line: e.line } : {}), ...(e.column ? { column: e.column } : {}), ...(e.hint ? { hint: e.hint } : {}) })));
        setTold("The text has mistakes: the shop keeps what can be read.");
      } else setTold(err instanceof Error ? err.message : String(err));
    }
  };
  const lines = text.split("\n");
  return (
    <section class="sheet" aria-label={p.tag ? `Edit ${p.name}` : "New file"}>
      {p.tag ? (
        <h2 dir="auto">{name}</h2>
      ) : (
        <label>
          Name of the file
          <input value={name} maxLength={60} pattern="[A-Za-z0-9][A-Za-z0-9._\-]*\.(yaml|csv)" onInput={(e) => setName(e.currentTarget.value)} />
        </label>
      )}
      {told ? <p class="told warning" role="alert">{told}</p> : null}
      {theirs ? (
        <div class="told warning stack">
          <Difference lines={difference(theirs.text, text)} />
          <div class="row">
            <button
              onClick={() => {
                setText(theirs.text);
                setTag(theirs.tag);
                setTheirs(undefined);
                setTold("");
              }}
            >
              Go on with theirs
            </button>
            {theirs.merged ? (
              <button
                class="main"
                onClick={() => {
                  setText(theirs.merged!);
                  setTag(theirs.tag);
                  setTheirs(undefined);
                  setTold("Both edits are in the text now. Look at it, then save.");
                }}
              >
                Take both edits
              </button>
            ) : null}
            <button onClick={() => void save(text, theirs.tag)}>Save mine after theirs</button>
          </div>
        </div>
      ) : null}
      <div class="beside">
        <label>
          The file, as the command line reads it
          <textarea ref={area} class="code" spellcheck={false} rows={26} wrap="off" value={text} readOnly={!office()} aria-describedby="mistakes" onInput={(e) => setText(e.currentTarget.value)} />
        </label>
        <div id="mistakes" role="status" class="stack">
          {problems.length ? (
            <>
              <h3>{problems.length === 1 ? "One mistake" : `${problems.length} mistakes`}</h3>
              <ul class="list">
                {problems.map((m, i) => (
                  <li key={i} class="told error">
                    {m.line ? (
                      <button class="plain" onClick={() => go(m.line!, m.column ?? 1)}>
                        Line {m.line}, column {m.column ?? 1}
                      </button>
                    ) : null}
                    {m.line ? <pre class="wide code">{lines[m.line - 1] ?? ""}</pre> : null}
                    <p>{m.message}</p>
                    {m.hint ? <p class="hint">Right would be: {m.hint}</p> : null}
                  </li>
                ))}
              </ul>
            </>
          ) : title ? (
            <p class="told good">Reads well: {title}</p>
          ) : (
            <p class="quiet">Reading…</p>
          )}
        </div>
      </div>
      {office() ? (
        <label>
          Why (stands in the history)
          <input value={note} maxLength={500} onInput={(e) => setNote(e.currentTarget.value)} />
        </label>
      ) : null}
      <div class="row">
        {office() ? (
          <button class="main" disabled={problems.length > 0 || !title} onClick={() => void save(text, tag)}>
            Save
          </button>
        ) : null}
        <button onClick={() => void p.done()}>Close</button>
      </div>
    </section>
  );
}
