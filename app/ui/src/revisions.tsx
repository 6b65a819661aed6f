// The revisions of a text, of a job or of a file of the shop: see, compare, restore.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { difference, type Line } from "./lines";

export interface Revision {
  number: number;
  at: string;
  by: string;
  note?: string;
}

/** Shown is what is looked at: a text, or what differs between two. */
export interface Shown {
  title: string;
  text?: string;
  lines?: Line[];
  /** What differs in the plan, for people. */
  plan?: string;
}

interface Props {
  list: Revision[];
  text: (number: number) => Promise<string>;
  /** What differs in the plans of two revisions; left out where there are none. */
  plans?: (from: number, to: number) => Promise<string>;
  restore: (number: number) => Promise<void>;
}

export function Revisions({ list, text, plans, restore }: Props): JSX.Element {
  const last = list[0]?.number ?? 0;
  const [from, setFrom] = useState(0);
  const [to, setTo] = useState(0);
  const [seen, setSeen] = useState<Shown | undefined>();
  const [told, setTold] = useState("");
  const [busy, setBusy] = useState(false);
  useEffect(() => {
    setFrom(list[1]?.number ?? last);
    setTo(last);
  }, [last]);
  const attempt = async (f: () => Promise<void>): Promise<void> => {
    setBusy(true);
    try {
      await f();
      setTold("");
    } catch (err) {
      setTold(err instanceof Error ? err.message : String(err));
    }
    setBusy(false);
  };
  const compare = (a: number, b: number): Promise<void> =>
    attempt(async () => {
      const [before, after] = await Promise.all([text(a), text(b)]);
      const plan = plans ? await plans(a, b).catch((err: Error) => err.message) : undefined;
      setSeen({ title: `What changed from revision ${a} to ${b}`, lines: difference(before, after), ...(plan === undefined ? {} : { plan }) });
    });
  const choice = (label: string, v: number, set: (n: number) => void): JSX.Element => (
    <label class="inline">
      {label}
      <select value={String(v)} onChange={(e) => set(Number(e.currentTarget.value))}>
        {list.map((r) => (
          <option key={r.number} value={String(r.number)}>
            {r.number}
          </option>
        ))}
      </select>
    </label>
  );
  return (
    <>
      {told ? <p class="told warning" role="alert">{told}</p> : null}
      <div class="wide">
        <table>
          <thead>
            <tr>
              <th class="number">Revision</th>
              <th>When</th>
              <th>Who</th>
              <th>Why</th>
              <th>
                <span class="unseen">What can be done</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {list.map((r) => (
              <tr key={r.number}>
                <td class="number">{r.number}</td>
                <td>{new Date(r.at).toLocaleString()}</td>
                <td dir="auto">{r.by}</td>
                <td dir="auto">{r.note}</td>
                <td>
                  <div class="row">
                    <button aria-label={`See revision ${r.number}`} onClick={() => void attempt(async () => setSeen({ title: `Revision ${r.number}`, text: await text(r.number) }))}>See</button>
                    {r.number !== last ? (
                      <>
                        <button aria-label={`Compare revision ${r.number} with the latest`} onClick={() => void compare(r.number, last)}>Compare</button>
                        <button aria-label={`Restore revision ${r.number}`} onClick={() => void attempt(() => restore(r.number))}>Restore</button>
                      </>
                    ) : null}
                  </div>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {list.length > 2 ? (
        <div class="row">
          {choice("From", from, setFrom)}
          {choice("to", to, setTo)}
          <button disabled={from === to} onClick={() => void compare(from, to)}>Compare these two</button>
        </div>
      ) : null}
      {busy ? <progress aria-label="Reading" /> : null}
      {seen ? (
        <section class="sheet" aria-label={seen.title}>
          <div class="row between">
            <h2>{seen.title}</h2>
            <button onClick={() => setSeen(undefined)}>Close</button>
          </div>
          {seen.plan !== undefined ? (
            <>
              <h3>In the plan</h3>
              <pre class="wide" tabIndex={0}>{seen.plan}</pre>
              <h3>In the text</h3>
            </>
          ) : null}
          {seen.lines ? <Difference lines={seen.lines} /> : <pre class="wide" tabIndex={0}>{seen.text}</pre>}
        </section>
      ) : null}
    </>
  );
}

/** Difference shows lines taken out and put in; the signs tell it without colour. */
export function Difference({ lines }: { lines: Line[] }): JSX.Element {
  if (!lines.some((l) => l.mark === "+" || l.mark === "-")) return <p class="quiet">The texts are alike.</p>;
  return (
    <pre class="wide difference" tabIndex={0}>
      {lines.map((l, i) =>
        l.mark === "+" ? <ins key={i}>{"+ " + l.text + "\n"}</ins> : l.mark === "-" ? <del key={i}>{"− " + l.text + "\n"}</del> : <span key={i}>{(l.mark === "…" ? "…" : "  " + l.text) + "\n"}</span>,
      )}
    </pre>
  );
}
