// The wall of what is chosen, as it is printed.
import type { JSX } from "preact";
import { useEffect, useMemo, useState } from "preact/hooks";
import { ask } from "../engine";
import type { Drawing } from "../made/answers";
import type { Work } from "../work";

export function Elevation({ work, at }: { work: Work; at: string }): JSX.Element | null {
  const [sheets, setSheets] = useState<Drawing[]>([]);
  const [whole, setWhole] = useState(false);
  const [busy, setBusy] = useState(false);
  const d = work.planned?.document;
  const run = useMemo(() => d?.bays?.find((b) => b.name === at)?.run ?? d?.runs?.find((r) => r.name === at)?.name ?? "", [d, at]);
  useEffect(() => setWhole(false), [run]);
  useEffect(() => {
    if (!run) {
      setSheets([]);
      return;
    }
    if (!work.drawn) return; // the engine is still on its way
    let gone = false;
    setBusy(true);
    // Once the plan has come to rest: the drawing itself comes first.
    const soon = setTimeout(() => {
      ask<Drawing[]>("elevation", { ...work.question(), about: run, whole }).then(
        (s) => {
          if (gone) return;
          setSheets(s);
          setBusy(false);
        },
        () => !gone && setBusy(false),
      );
    }, 60);
    return () => {
      gone = true;
      clearTimeout(soon);
    };
  }, [run, whole, work.drawn]);
  const pictures = useMemo(() => sheets.map((s) => ({ title: s.title, url: URL.createObjectURL(new Blob([s.svg], { type: "image/svg+xml" })) })), [sheets]);
  useEffect(() => () => pictures.forEach((u) => URL.revokeObjectURL(u.url)), [pictures]);
  if (!run) return null;
  return (
    <section class="sheet" aria-label={`Elevation of ${run}`}>
      <div class="row between">
        <h2>{run} from its front</h2>
        <button aria-pressed={whole} onClick={() => setWhole(!whole)}>The whole wall</button>
      </div>
      {busy && !pictures.length ? (
        <p role="status">
          Drawing… <progress />
        </p>
      ) : null}
      {pictures.map((u) => (
        <figure key={u.url} class="wide" tabIndex={0} aria-label={`Elevation: ${u.title}`}>
          <img class="paper" src={u.url} alt={`Elevation: ${u.title}`} />
        </figure>
      ))}
      {!busy && !pictures.length ? <p class="quiet">Nothing fills this wall.</p> : null}
    </section>
  );
}
