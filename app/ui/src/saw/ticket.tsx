// One ticket: the board, where to mark it, and what became of it.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { Entry } from "../barn/entry";
import type { CutBoard } from "../keep";
import { say } from "../language";
import { nanometres, show, unitsOf } from "../lengths";
import type { SawMark as Mark, SawMaterial as Material, SawTicket as Ticket } from "../made/answers";
import type { Work } from "../work";
import { Big } from "./big";
import { Board } from "./board";
import { Labels } from "./labels";
import { called } from "./saw";

interface Props {
  work: Work;
  material: Material;
  ticket: Ticket;
}

export function TicketView({ work, material, ticket: t }: Props): JSX.Element {
  const [wrong, setWrong] = useState<Set<number> | undefined>();
  const [keptOffcut, setKeptOffcut] = useState(true);
  const [rest, setRest] = useState<number | "asked" | undefined>();
  const [told, setTold] = useState("");
  const [busy, setBusy] = useState(false);
  const marks = t.marks ?? [];
  const units = unitsOf(work);
  const boards = material.item === "board";
  const log = async (good: Mark[], more: Partial<CutBoard>): Promise<void> => {
    setBusy(true);
    const rec = await work.stamp("cut");
    await work.add({
      ...rec,
      cut: {
        item: material.item,
        ...(material.treated ? { treated: true } : {}),
        length_nm: t.length_nm,
        ...(t.from_rack ? { from_rack: true } : {}),
        // One board of the ticket: the first label of each mark is of the next board.
        good: good.map((m) => ({ label: m.labels?.[0] ?? "", length_nm: m.length_nm })),
        ...more,
      },
    });
    setBusy(false);
  };
  const done = (): Promise<void> => log(marks, t.keep_nm && keptOffcut ? { rest_nm: [t.keep_nm] } : {});
  const good = marks.filter((_, i) => !wrong?.has(i));
  const spoiled = async (): Promise<void> => {
    const left = typeof rest === "number" ? rest : 0;
    if (good.reduce((n, m) => n + m.length_nm, left) > t.length_nm) {
      setTold(say("app.rest-too-long"));
      return;
    }
    await log(good, { wrong: true, ...(left ? { rest_nm: [left] } : {}) });
  };
  const turn = (i: number): void => setWrong(new Set(wrong?.has(i) ? [...wrong].filter((v) => v !== i) : [...(wrong ?? []), i]));
  if (rest === "asked") {
    return (
      <section class="ticket sheet">
        <h2>{say("app.rest-length")}</h2>
        <Entry units={units} small={false} start={undefined} busy={false} take={(length) => say("app.take-this", { length })} done={(typed) => setRest(nanometres(typed, units))}>
          <button onClick={() => setRest(undefined)}>{say("app.back")}</button>
        </Entry>
      </section>
    );
  }
  return (
    <section class="ticket sheet" aria-label={say("app.ticket", { number: t.number })}>
      <h2 class="stock">
        {boards ? say("app.boards-of", { n: t.boards, length: t.length }) : say("app.bars-of", { n: t.boards, length: t.length })}
        <small>
          {called(material)}
          {t.from_rack ? ` · ${say("app.from-rack")}` : ""}
        </small>
      </h2>
      <p>{t.first ? say("app.hook-at", { first: t.first }) : say("app.hook-squared")}</p>
      <Board ticket={t} />
      {wrong ? <p class="told warning" role="status">{say("app.which-wrong")}</p> : null}
      <ol class="marks">
        {marks.map((m, i) => (
          <li key={i} class={wrong?.has(i) ? "spoiled" : ""}>
            <Big length={m.at} />
            <span class="labels">{m.labels?.[0]}</span>
            <span class="quiet">{say("app.piece-length", { length: m.length })}</span>
            {wrong ? (
              <button class="huge" aria-pressed={wrong.has(i)} onClick={() => turn(i)}>
                {say("app.piece-wrong", { label: m.labels?.[0] ?? "" })}
              </button>
            ) : null}
          </li>
        ))}
      </ol>
      {wrong ? (
        <>
          <div class="row">
            <button onClick={() => setRest("asked")}>{say("app.keep-rest")}</button>
            {typeof rest === "number" ? <b>{say("app.rest-kept", { length: show(rest, units) })}</b> : null}
          </div>
          {told ? <p class="told error" role="alert">{told}</p> : null}
          <div class="foot two">
            <button class="bad huge" disabled={wrong.size === 0 || busy} onClick={() => void spoiled()}>{say("app.plan-again")}</button>
            <button class="huge" onClick={() => setWrong(undefined)}>{say("app.back")}</button>
          </div>
        </>
      ) : (
        <>
          {t.keep ? (
            <button class="offcut no-print" role="checkbox" aria-checked={keptOffcut} onClick={() => setKeptOffcut(!keptOffcut)}>
              <span class="tick" aria-hidden="true">{keptOffcut ? "✓" : ""}</span>
              {t.label ? say("app.keep-offcut-label", { length: t.keep, label: t.label }) : say("app.keep-offcut", { length: t.keep })}
            </button>
          ) : null}
          <div class="foot two no-print">
            <button class="main huge" disabled={busy} onClick={() => void done()}>
              {t.boards > 1 ? say("app.one-done", { n: t.boards - 1 }) : boards ? say("app.board-done") : say("app.bar-done")}
            </button>
            <button class="bad huge" disabled={busy} onClick={() => setWrong(new Set())}>{say("app.wrong-cut")}</button>
          </div>
          <Labels work={work} material={material} ticket={t} />
        </>
      )}
    </section>
  );
}
