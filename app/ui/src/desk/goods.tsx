// Which kit, yard and price book a job uses, and what the offer comes to.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { ask, Trouble } from "../engine";
import type { Choices, Offer } from "../made/answers";
import { office } from "../session";
import { freshen, texts, type Kind } from "../shelf";
import type { Work } from "../work";
import { set, value } from "./edits";

/** Goods lets the office choose the shop's files for the job. */
export function Goods({ work }: { work: Work }): JSX.Element {
  const [kits, setKits] = useState<{ name: string; title: string }[]>([]);
  const [told, setTold] = useState("");
  useEffect(() => {
    let gone = false;
    void (async () => {
      const list = async (): Promise<void> => {
        const c = await ask<Choices>("choices", { job: "", shop: texts(work.shelf) }).catch(() => undefined);
        if (!gone) setKits((c?.kits ?? []).map((k) => ({ name: k.name, title: k.title })));
      };
      await list();
      const fresh = await freshen();
      if (gone || JSON.stringify(fresh) === JSON.stringify(work.shelf)) return;
      await work.reload();
      await list();
    })();
    return () => {
      gone = true;
    };
  }, [work]);
  const text = work.job.text;
  const write = (t: string | undefined): void => {
    setTold(t === undefined ? "That cannot be done here. The text view can do everything." : "");
    if (t !== undefined) void work.write(t);
  };
  const files = (kind: Kind): { name: string; title: string }[] =>
    Object.entries(work.shelf)
      .filter(([name, f]) => name.startsWith(kind + "/") && name.endsWith(".yaml") && !f.deleted)
      .map(([name, f]) => ({ name: name.slice(kind.length + 1), title: f.title }));
  const kit = value(text, ["kit"]) ?? "";
  const yard = base(value(text, ["lumber", "yard"]) ?? "");
  const book = base(value(text, ["prices"]) ?? "");
  return (
    <section class="sheet" aria-label="What it is made and priced of">
      <h2>Kit, boards, prices</h2>
      <Choice label="Kit" value={kit} none="" list={kits} done={(v) => write(text.replace(/^kit:[^#\n]*?(\s*(?:#.*)?)$/m, (_, rest: string) => `kit: ${v}${rest}`))} />
      <Choice label="Boards from" value={yard} none="the lengths the job states" list={files("yards")} done={(v) => write(fromYard(text, v))} />
      <Choice label="Price book" value={book} none="none: no offer" list={files("prices")} done={(v) => write(fromBook(text, v))} />
      {told ? <p class="told warning">{told}</p> : null}
      {book && office() ? <Offered work={work} /> : null}
    </section>
  );
}

const base = (path: string): string => path.replace(/^.*[\\/]/, "");

/** Choice is a list with what is chosen in it, whether the shop has it or not. */
function Choice({ label, value: v, none, list, done }: { label: string; value: string; none: string; list: { name: string; title: string }[]; done: (v: string) => void }): JSX.Element {
  const known = list.some((c) => c.name === v);
  return (
    <label>
      {label}
      <select value={v} onChange={(e) => done(e.currentTarget.value)}>
        {none ? <option value="">{none}</option> : null}
        {v && !known ? <option value={v}>{v}</option> : null}
        {list.map((c) => (
          <option key={c.name} value={c.name}>
            {c.title && c.title !== c.name ? `${c.title} (${c.name})` : c.name}
          </option>
        ))}
      </select>
    </label>
  );
}

/** fromYard takes the boards from a yard, or from lengths of the job's own. */
function fromYard(text: string, yard: string): string | undefined {
  if (yard) {
    let t: string | undefined = text;
    for (const key of ["lengths", "treated_lengths"]) if (t !== undefined) t = set(t, ["lumber", key], undefined);
    return t === undefined ? undefined : set(t, ["lumber", "yard"], yard);
  }
  const metric = value(text, ["units"]) === "metric";
  const t = set(text, ["lumber", "yard"], undefined);
  return t === undefined ? undefined : set(t, ["lumber", "lengths"], metric ? ["3000 mm", "3600 mm", "4200 mm", "4800 mm"] : ["8'", "10'", "12'", "14'", "16'"]);
}

/** fromBook names the price book in the line below the kit. */
function fromBook(text: string, book: string): string | undefined {
  const without = text.replace(/^prices:.*\n?/m, "");
  if (!book) return without;
  return /^kit:.*$/m.test(without) ? without.replace(/^(kit:.*)$/m, `$1\nprices: ${book}`) : undefined;
}

/** Offered is what the offer comes to; it follows once the plan is done. */
function Offered({ work }: { work: Work }): JSX.Element {
  const [offer, setOffer] = useState<Offer | undefined>();
  const [told, setTold] = useState<string[]>([]);
  const [shows, setShows] = useState(false);
  useEffect(() => {
    if (work.stage !== "done") return;
    let gone = false;
    ask<Offer>("offer", work.question()).then(
      (o) => {
        if (gone) return;
        setOffer(o);
        setTold([]);
      },
      (err: Error) => {
        if (gone) return;
        setOffer(undefined);
        setTold(err instanceof Trouble && err.problems.length ? err.problems.map((p) => `${p.file}${p.line ? `, line ${p.line}` : ""}: ${p.message}${p.hint ? `; right would be: ${p.hint}` : ""}`) : [err.message]);
      },
    );
    return () => {
      gone = true;
    };
  }, [work.stage, work.planned]);
  const d = offer?.document;
  const money = (v: number): string => (v / 10 ** (d?.decimals ?? 2)).toFixed(d?.decimals ?? 2);
  const file = (name: string): string => `/api/jobs/${encodeURIComponent(work.job.id)}/offer/file?name=${name}`;
  return (
    <div class="stack offer" role="group" aria-label="Offer">
      {told.map((t) => (
        <p key={t} class="told error">
          {t}
        </p>
      ))}
      {d ? (
        <>
          {(d.old ?? []).map((t) => (
            <p key={t} class="told warning">
              {t}
            </p>
          ))}
          {d.complete ? null : (
            <div class="told warning">
              <p>
                <b>Not complete.</b> These have no price and are in no sum:
              </p>
              <ul>
                {(d.missing ?? []).map((m) => (
                  <li key={m}>{m}</li>
                ))}
              </ul>
            </div>
          )}
          <dl class="sums">
            <Sum name="boards cost us" value={money(d.lumber)} />
            <Sum name="all costs us" value={money(d.cost)} />
            <Sum name="before tax" value={money(d.net)} />
            <Sum name={`total, ${d.currency}`} value={money(d.total)} strong />
            <Sum name="stays" value={`${money(d.net - d.cost)}${d.net ? ` (${((100 * (d.net - d.cost)) / d.net).toFixed(1)} %)` : ""}`} />
          </dl>
          {d.lead_days ? <p class="hint">The boards come {d.lead_days} working days after the order.</p> : null}
          <details>
            <summary>Line by line</summary>
            <div class="wide">
              <table class="lines">
                <thead>
                  <tr>
                    <th>What</th>
                    <th class="number">Count</th>
                    <th class="number">Cost</th>
                    <th class="number">Price</th>
                  </tr>
                </thead>
                <tbody>
                  {(d.lines ?? []).map((l, i) => (
                    <tr key={i}>
                      <td>
                        <details>
                          <summary>
                            {l.name} {l.length ?? ""}
                          </summary>
                          <ul class="chain">
                            {(l.why ?? []).map((w, n) => (
                              <li key={n}>{w}</li>
                            ))}
                          </ul>
                        </details>
                      </td>
                      <td class="number">{l.minutes ? `${(l.minutes / 60).toFixed(1)} h` : (l.count ?? "")}</td>
                      <td class="number">{money(l.cost)}</td>
                      <td class="number">{money(l.price)}</td>
                    </tr>
                  ))}
                  {(d.taxes ?? []).map((t) => (
                    <tr key={t.name}>
                      <td>
                        {t.name}, {t.rate}
                      </td>
                      <td />
                      <td />
                      <td class="number">{money(t.amount)}</td>
                    </tr>
                  ))}
                </tbody>
              </table>
            </div>
          </details>
          <button aria-expanded={shows} onClick={() => setShows(!shows)}>What the customer reads</button>
          {shows ? <pre class="wide" tabIndex={0}>{offer?.customer}</pre> : null}
          <div class="row">
            <a class="button" href={file("offer.pdf")}>Offer on paper</a>
            <a class="button" href={file("offer.csv")}>As a list, with costs</a>
          </div>
        </>
      ) : told.length ? null : (
        <progress aria-label="Pricing" />
      )}
    </div>
  );
}

function Sum({ name, value: v, strong }: { name: string; value: string; strong?: boolean }): JSX.Element {
  return (
    <div class={strong ? "strong" : ""}>
      <dt>{name}</dt>
      <dd>{v}</dd>
    </div>
  );
}
