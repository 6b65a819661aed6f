// Why a number is what it is, back to who measured or stated it.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { ask } from "../engine";
import type { Part, Reason } from "../made/answers";
import type { Work } from "../work";

/** Reasons asks why and shows the chains. */
export function Reasons({ work, about }: { work: Work; about: string }): JSX.Element {
  const [reasons, setReasons] = useState<Reason[] | undefined>();
  const [told, setTold] = useState("");
  useEffect(() => {
    let gone = false;
    setReasons(undefined);
    ask<Reason[]>("why", { ...work.question(), about }).then(
      (r) => !gone && setReasons(r),
      (e: Error) => !gone && setTold(e.message),
    );
    return () => {
      gone = true;
    };
  }, [about, work.job.text, work.records.length]);
  if (told) return <p class="quiet">{told}</p>;
  if (!reasons) return <p role="status">Looking it up… <progress /></p>;
  return (
    <div class="stack reasons">
      {reasons.map((r, i) => (
        <div key={i}>
          <h3>{r.title}</h3>
          <ul class="chain">
            {(r.lines ?? []).map((l, n) => (
              <li key={n}>{l}</li>
            ))}
          </ul>
        </div>
      ))}
      {reasons.length === 0 ? <p class="quiet">Nothing to tell about it.</p> : null}
    </div>
  );
}

/** Why tells of what is chosen, and of each of its pieces. */
export function Why({ work, at, piece }: { work: Work; at: string; piece: string }): JSX.Element | null {
  const [parts, setParts] = useState<Part[]>([]);
  const [asked, setAsked] = useState("");
  const named = at && !at.startsWith("room ") && !at.startsWith("size ") ? at : "";
  useEffect(() => setAsked(piece), [named, piece]);
  useEffect(() => {
    let gone = false;
    if (!named) setParts([]);
    else if (work.drawn) ask<Part[]>("parts", { ...work.question(), about: named }).then((p) => !gone && setParts(p), () => undefined);
    return () => {
      gone = true;
    };
  }, [named, work.drawn]);
  if (!named) return null;
  return (
    <section class="sheet" aria-label={`Why ${named}`}>
      <div class="row">
        <button aria-expanded={asked === named} onClick={() => setAsked(asked === named ? "" : named)}>
          Why these numbers?
        </button>
      </div>
      {asked === named ? <Reasons work={work} about={named} /> : null}
      {piece && asked === piece && !parts.some((p) => p.label === piece) ? <Reasons work={work} about={piece} /> : null}
      {parts.length ? (
        <details open={piece !== ""}>
          <summary>Its {parts.length} pieces</summary>
          <ul class="list parts-list">
            {parts.map((p) => (
              <li key={p.label}>
                <button class="line" aria-expanded={asked === p.label} onClick={() => setAsked(asked === p.label ? "" : p.label)}>
                  <span>
                    <b>{p.label.split("/").slice(1).join("/") || p.label}</b> {p.kind}
                    {p.work ? `, ${p.work}` : ""}
                  </span>
                  <span class="number">{p.length ?? ""}</span>
                </button>
                {asked === p.label ? <Reasons work={work} about={p.label} /> : null}
              </li>
            ))}
          </ul>
        </details>
      ) : null}
    </section>
  );
}
