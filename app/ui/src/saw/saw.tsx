// At the saw: one ticket at a time, with marks that can be read from the far end
// of the board.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { ask } from "../engine";
import { keep, type CutBoard } from "../keep";
import type { Mark, Material, Ticket } from "../made/answers";
import { address } from "../places";
import type { Work } from "../work";

export function SawRoom({ work, at }: { work: Work; at: string }): JSX.Element {
  const [materials, setMaterials] = useState<Material[] | undefined>();
  const [trouble, setTrouble] = useState("");
  useEffect(() => {
    ask<Material[]>("saw", { ...work.question(), records: work.records.map((r) => r.record) }).then(
      (m) => {
        setMaterials(m);
        setTrouble("");
      },
      (e: Error) => setTrouble(e.message),
    );
  }, [work.job.text, work.records.length]);
  if (trouble) return <p class="told error">{trouble}</p>;
  if (!materials) return <p>Laying out the boards… <progress /></p>;
  const all = materials.flatMap((m) => (m.tickets ?? []).map((ticket) => ({ material: m, ticket })));
  const i = Math.min(Math.max(Number(at) || 0, 0), Math.max(all.length - 1, 0));
  const now = all[i];
  return (
    <div class="saw">
      <h1>Saw</h1>
      {materials.length === 0 ? <p class="told warning">Nothing is released yet: measure a bay, and release it. Nothing is cut from a drawing.</p> : null}
      {materials.map((m) => (
        <section key={m.item + m.treated} class="sheet">
          <p>
            <b>
              {m.name}
              {m.treated ? ", treated" : ""}
            </b>{" "}
            {m.done} of {m.pieces} pieces cut{m.wrong ? `, ${m.wrong} boards with a wrong cut` : ""}
            {m.again ? "; planned anew after what was cut" : ""}
          </p>
          <progress max={m.pieces} value={m.done} aria-label={`${m.name}: pieces cut`} />
          {m.shortage ? <p class="told error">{m.shortage}</p> : null}
          {(m.buy ?? []).map((b) => (
            <p key={b.length} class="told warning">
              Needs {b.count} more of {b.length}.
            </p>
          ))}
          {(m.misfits ?? []).length ? <p class="told warning">Cut, but not wanted as they are: {(m.misfits ?? []).join(", ")}</p> : null}
        </section>
      ))}
      {now ? <TicketView key={`${now.material.item}${now.ticket.number}-${work.records.length}`} work={work} material={now.material} ticket={now.ticket} /> : materials.length ? <p class="told good">All is cut.</p> : null}
      {all.length > 1 ? (
        <div class="row">
          <a class="button" href={address(work.job.id, "saw", String(Math.max(i - 1, 0)))}>
            ← Ticket before
          </a>
          <span>
            {i + 1} of {all.length}
          </span>
          <a class="button" href={address(work.job.id, "saw", String(Math.min(i + 1, all.length - 1)))}>
            Next ticket →
          </a>
        </div>
      ) : null}
    </div>
  );
}

function TicketView({ work, material, ticket: t }: { work: Work; material: Material; ticket: Ticket }): JSX.Element {
  const [wrong, setWrong] = useState<Set<number> | undefined>();
  const marks = t.marks ?? [];
  const log = async (board: CutBoard): Promise<void> => {
    const by = await keep.get("me");
    const rec = await work.stamp("cut");
    await work.add({ ...rec, ...(by ? { by } : {}), cut: board });
  };
  /** board is what one board of the ticket gives: the n-th label of each mark. */
  const board = (good: Mark[]): CutBoard => ({
    item: material.item,
    ...(material.treated ? { treated: true } : {}),
    length_nm: t.length_nm,
    ...(t.rack ? { from_rack: true } : {}),
    good: good.map((m) => ({ label: m.labels?.[0] ?? "", length_nm: m.length_nm })),
  });
  const done = (): Promise<void> => log({ ...board(marks), ...(t.keep_nm ? { rest_nm: [t.keep_nm] } : {}) });
  const spoiled = (): Promise<void> => log({ ...board(marks.filter((_, i) => !wrong!.has(i))), wrong: true, note: "cut wrong at the saw" });
  return (
    <section class="ticket sheet" aria-label={`Ticket ${t.number}`}>
      <p class="stock">
        <b>{t.boards}</b> × {t.length} {material.name}
        {t.rack ? " (offcut on hand)" : ""}
      </p>
      {t.first ? <p>Square the end at {t.first}, hook the tape there once.</p> : <p>Hook the tape once, at the squared end.</p>}
      <ol class="marks">
        {marks.map((m, i) => (
          <li key={i}>
            <span class="mark">{m.at}</span>
            <span class="quiet">piece {m.length}</span>
            <span class="labels">{(m.labels ?? []).join(" · ")}</span>
            {wrong ? (
              <button aria-pressed={wrong.has(i)} onClick={() => setWrong(new Set(wrong.has(i) ? [...wrong].filter((v) => v !== i) : [...wrong, i]))}>
                Wrong
              </button>
            ) : null}
          </li>
        ))}
      </ol>
      {t.keep ? (
        <p class="told good">
          Keep {t.keep} on the rack{t.label ? `, label ${t.label}` : ""}.
        </p>
      ) : null}
      {wrong ? (
        <div class="row">
          <button class="bad huge" disabled={wrong.size === 0} onClick={() => void spoiled()}>
            Plan the rest anew
          </button>
          <button class="huge" onClick={() => setWrong(undefined)}>Back</button>
        </div>
      ) : (
        <div class="row">
          <button class="main huge" onClick={() => void done()}>
            {t.boards > 1 ? `One of ${t.boards} boards done` : "Board done"}
          </button>
          <button class="bad huge" onClick={() => setWrong(new Set())}>Wrong cut</button>
          <button onClick={() => print()}>Print</button>
        </div>
      )}
    </section>
  );
}
