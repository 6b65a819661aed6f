// Counts, masses and money beside the drawing.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { ask } from "../engine";
import type { Document, Summary } from "../made/answers";
import type { Work } from "../work";
import { Reasons } from "./why";

export function Figures({ work, document: d }: { work: Work; document: Document }): JSX.Element {
  const order = (d.takeoff ?? []).filter((t) => t.class === "lumber").reduce((n, t) => n + t.order, 0);
  const cuts = (d.cuts ?? []).filter((c) => c.item === "board");
  const cost = cuts.reduce((n, c) => n + (c.cost ?? 0), 0);
  const length = cuts.reduce((n, c) => n + (c.stock ?? []).reduce((m, s) => m + (s.on_hand ? 0 : s.length_nm * s.count), 0), 0);
  const feet = d.job.units === "feet";
  return (
    <section class="sheet" aria-label="Figures">
      <h2>What it takes</h2>
      <dl class="figures">
        <Figure name="boards to fit" value={String(work.planned?.boards ?? 0)} />
        <Figure name="boards to buy" value={String(order)} />
        <Figure name="of lumber" value={feet ? `${Math.round(length / 304_800_000).toLocaleString()} ft` : `${Math.round(length / 1e9).toLocaleString()} m`} />
        {cost ? <Figure name="lumber cost" value={(cost / 100).toLocaleString(undefined, { minimumFractionDigits: 2, maximumFractionDigits: 2 })} /> : null}
        <Figure name="to load" value={d.mass} />
        <Figure name="bays" value={String(d.bays?.length ?? 0)} />
        <Figure name="rooms" value={String(d.rooms?.length ?? 0)} />
      </dl>
      <Proof work={work} gaps={cuts.filter((c) => !c.proven).map((c) => c.gap_ppm)} any={cuts.length > 0} />
      {cost ? null : <p class="hint">Give board lengths their prices (lumber.lengths), and the cost stands here.</p>}
      <Order work={work} document={d} />
      <InWords work={work} />
    </section>
  );
}

/** Proof says how sure it is that no cutting takes less. */
function Proof({ work, gaps, any }: { work: Work; gaps: number[]; any: boolean }): JSX.Element | null {
  if (!any) return null;
  const most = (Math.max(...gaps) / 10_000).toFixed(2);
  const says = !gaps.length
    ? "Proven: no cutting takes less lumber."
    : work.stage === "proving"
      ? "Proving that no cutting takes less…"
      : `It could still be had for at most ${most} % less.`;
  return (
    <p class="hint" role="status">
      {says}
    </p>
  );
}

function Order({ work, document: d }: { work: Work; document: Document }): JSX.Element {
  const [why, setWhy] = useState("");
  return (
    <details>
      <summary>The order, line by line</summary>
      <div class="wide" tabIndex={0} role="region" aria-label="The order">
        <table>
          <thead>
            <tr>
              <th>Item</th>
              <th class="number">Order</th>
              <th>Length</th>
              <th class="number">Mass</th>
            </tr>
          </thead>
          <tbody>
            {(d.takeoff ?? []).map((t) => {
              const about = `order:${t.item}:${t.length_nm ?? 0}:${t.treated ?? false}`;
              return (
                <tr key={about}>
                  <td>
                    <button class="plain" aria-expanded={why === about} onClick={() => setWhy(why === about ? "" : about)}>
                      {t.name}
                      {t.treated ? ", treated" : ""}
                    </button>
                    {why === about ? <Reasons work={work} about={about} /> : null}
                  </td>
                  <td class="number">{t.order}</td>
                  <td>{t.length ?? ""}</td>
                  <td class="number">{t.mass}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
    </details>
  );
}

/** InWords is the summary that the papers begin with, asked for when it is opened. */
function InWords({ work }: { work: Work }): JSX.Element {
  const [open, setOpen] = useState(false);
  const [said, setSaid] = useState<Summary | undefined>();
  useEffect(() => {
    let gone = false;
    if (open) ask<Summary>("summary", work.question()).then((s) => !gone && setSaid(s), () => undefined);
    return () => {
      gone = true;
    };
  }, [open, work.job.text, work.records.length]);
  return (
    <details onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>Summary and cautions</summary>
      {open && !said ? <p role="status">Writing it… <progress /></p> : null}
      {said ? (
        <>
          <pre class="wide" tabIndex={0}>{said.text}</pre>
          <ul>
            {(said.cautions ?? []).map((c) => (
              <li key={c}>{c}</li>
            ))}
          </ul>
        </>
      ) : null}
    </details>
  );
}

function Figure({ name, value }: { name: string; value: string }): JSX.Element {
  return (
    <div>
      <dt class="quiet">{name}</dt>
      <dd class="figure">{value}</dd>
    </div>
  );
}
