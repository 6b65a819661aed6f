// Counts, masses and money beside the drawing, and what the plan has to tell.
import type { JSX } from "preact";
import type { Document } from "../made/answers";
import type { Work } from "../work";

export function Figures({ work, document: d }: { work: Work; document: Document }): JSX.Element {
  const boards = (d.pieces ?? []).filter((p) => p.kind === "board").length;
  const order = (d.takeoff ?? []).filter((t) => t.class === "lumber").reduce((n, t) => n + t.order, 0);
  const cuts = (d.cuts ?? []).filter((c) => c.item === "board");
  const cost = cuts.reduce((n, c) => n + (c.cost ?? 0), 0);
  const open = cuts.filter((c) => !c.proven);
  return (
    <section class="sheet" aria-label="Figures">
      <h2>What it takes</h2>
      <dl class="figures">
        <Figure name="boards to fit" value={String(boards)} />
        <Figure name="boards to buy" value={String(order)} />
        {cost ? <Figure name="lumber" value={(cost / 100).toFixed(2)} /> : null}
        <Figure name="to load" value={d.mass} />
        <Figure name="bays" value={String(d.bays?.length ?? 0)} />
        <Figure name="rooms" value={String(d.rooms?.length ?? 0)} />
      </dl>
      <p class="hint">{open.length ? `The lumber could still be had for at most ${(Math.max(...open.map((c) => c.gap_ppm)) / 10000).toFixed(2)} % less.` : cuts.length ? "No plan takes less lumber than this: proven." : ""}</p>
      <details>
        <summary>The order, line by line</summary>
        <div class="wide">
          <table>
            <thead>
              <tr>
                <th>Item</th>
                <th class="number">Order</th>
                <th>Length</th>
              </tr>
            </thead>
            <tbody>
              {(d.takeoff ?? []).map((t, i) => (
                <tr key={i}>
                  <td>{t.name}</td>
                  <td class="number">{t.order}</td>
                  <td>{t.length ?? ""}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      </details>
      <details>
        <summary>Summary to read</summary>
        <pre class="wide">{work.planned?.summary}</pre>
      </details>
      <details>
        <summary>Cautions</summary>
        <ul>
          {(work.planned?.cautions ?? []).map((c) => (
            <li key={c}>{c}</li>
          ))}
        </ul>
      </details>
    </section>
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

export function Findings({ document: d, choose }: { document: Document; choose: (name: string) => void }): JSX.Element {
  const all = d.findings ?? [];
  return (
    <section class="sheet" aria-label="Findings">
      <h2>{all.length ? `To look at (${all.length})` : "Nothing to look at"}</h2>
      <ul class="list">
        {all.map((f, i) => (
          <li key={i} class={`told ${f.severity}`}>
            <p>
              <button class="plain" onClick={() => choose(f.place)}>
                {f.place}
              </button>
              : {f.message}
            </p>
            {(f.choices ?? []).length ? (
              <ul>
                {(f.choices ?? []).map((c) => (
                  <li key={c}>{c}</li>
                ))}
              </ul>
            ) : null}
          </li>
        ))}
      </ul>
    </section>
  );
}
