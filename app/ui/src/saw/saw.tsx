// At the saw: one ticket at a time, with marks that can be read from the far end
// of the board. What was cut is written down as it happened; the rest is planned
// from that.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { ask } from "../engine";
import type { KeptRecord } from "../keep";
import { language, say } from "../language";
import type { SawMaterial as Material, SawTicket as Ticket } from "../made/answers";
import { show, unitsOf } from "../lengths";
import { address } from "../places";
import type { Work } from "../work";
import { TicketView } from "./ticket";

export function SawRoom({ work, at }: { work: Work; at: string }): JSX.Element {
  const [materials, setMaterials] = useState<Material[] | undefined>();
  const [trouble, setTrouble] = useState("");
  const spoken = language();
  useEffect(() => {
    let gone = false;
    ask<Material[]>("saw", { ...work.question(), language: spoken, records: work.records.map((r) => r.record) }).then(
      (m) => {
        if (gone) return;
        setMaterials(m);
        setTrouble("");
      },
      (e: Error) => !gone && setTrouble(e.message),
    );
    return () => {
      gone = true;
    };
  }, [work.job.text, work.records.length, spoken]);
  if (trouble) return <p class="told error">{trouble}</p>;
  if (!materials) return <p>{say("app.laying-out")} <progress aria-label={say("app.laying-out")} /></p>;
  const all = materials.flatMap((m) => (m.tickets ?? []).map((ticket) => ({ material: m, ticket })));
  const i = Math.min(Math.max(Number(at) || 0, 0), Math.max(all.length - 1, 0));
  const now = all[i];
  return (
    <div class="saw">
      <div class="row between no-print">
        <h1>{say("app.saw")}</h1>
        {now ? <span class="quiet">{say("app.ticket-of", { no: i + 1, of: all.length })}</span> : null}
      </div>
      {materials.length === 0 ? <p class="told warning">{say("app.nothing-released")}</p> : null}
      {now ? (
        <>
          <Far material={now.material} />
          <TicketView key={shape(now.ticket)} work={work} material={now.material} ticket={now.ticket} />
        </>
      ) : materials.length ? (
        <p class="told good huge-text" role="status">{say("app.all-cut")}</p>
      ) : null}
      <LastBoard work={work} />
      {all.length > 1 ? (
        <nav class="two no-print" aria-label={say("app.ticket-of", { no: i + 1, of: all.length })}>
          <a class="button" href={address(work.job.id, "saw", String(Math.max(i - 1, 0)))}>
            ← {say("app.ticket-before")}
          </a>
          <a class="button" href={address(work.job.id, "saw", String(Math.min(i + 1, all.length - 1)))}>
            {say("app.ticket-next")} →
          </a>
        </nav>
      ) : null}
      {materials.length ? (
        <details class="sheet no-print">
          <summary>{say("app.other-materials")}</summary>
          <div class="stack">
            {materials.map((m) => (
              <section key={m.item + m.treated} class="stack">
                <h2>{called(m)}</h2>
                <Far material={m} />
              </section>
            ))}
          </div>
        </details>
      ) : null}
    </div>
  );
}

/** shape changes when a ticket asks for something else, so that nothing half chosen
 * stays from the one before. */
function shape(t: Ticket): string {
  return [t.length_nm, t.boards, t.from_rack, ...(t.marks ?? []).map((m) => m.at_nm + ":" + (m.labels?.[0] ?? ""))].join(" ");
}

export const called = (m: Material): string => (m.treated ? say("app.treated", { name: m.name }) : m.name);

/** Far is how far the cutting of one material is, and what is to be known of it. */
function Far({ material: m }: { material: Material }): JSX.Element {
  const misfits = m.misfits ?? [];
  return (
    <div class="stack far no-print">
      <div class="row between">
        <span role="status">{say("app.pieces-cut", { done: m.done, pieces: m.pieces })}</span>
        {m.wrong ? <span class="quiet">{say("app.boards-wrong", { n: m.wrong })}</span> : null}
      </div>
      <progress max={m.pieces} value={m.done} aria-label={say("app.pieces-cut", { done: m.done, pieces: m.pieces })} />
      {m.again ? <p class="quiet">{say("app.planned-again")}</p> : null}
      {m.shortage ? <p class="told error">{m.shortage}</p> : null}
      {(m.buy ?? []).map((b) => (
        <p key={b.length} class="told warning">
          {say("app.buy-more", { n: b.count, length: b.length })}
        </p>
      ))}
      {misfits.length ? <p class="told warning">{say("app.not-wanted", { pieces: misfits.map((p) => p.label).join(", ") })}</p> : null}
    </div>
  );
}

/** latest is the board that was written down last and not taken back. */
function latest(records: KeptRecord[]): KeptRecord | undefined {
  const gone = new Set(records.map((r) => r.record.void?.record));
  let last: KeptRecord | undefined;
  for (const r of records) {
    if (r.record.kind === "cut" && !gone.has(r.id) && (!last || Date.parse(r.record.at) >= Date.parse(last.record.at))) last = r;
  }
  return last;
}

/** LastBoard takes back what was written down by mistake. */
function LastBoard({ work }: { work: Work }): JSX.Element | null {
  const last = latest(work.records);
  const cut = last?.record.cut;
  if (!last || !cut) return null;
  const given = { n: cut.good?.length ?? 0, length: show(cut.length_nm, unitsOf(work)) };
  const back = async (): Promise<void> => work.add({ ...(await work.stamp("void")), void: { record: last.id } });
  return (
    <div class="row between sheet no-print last">
      <p role="status">{cut.wrong ? say("app.last-board-wrong", given) : say("app.last-board-good", given)}</p>
      <button onClick={() => void back()}>{say("app.take-back")}</button>
    </div>
  );
}
