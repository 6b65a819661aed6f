// Every text the job ever had: see, compare, restore.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { api, call } from "./api";
import { take } from "./sync";
import type { Work } from "./work";

interface Revision {
  number: number;
  at: string;
  by: string;
  note?: string;
}

export function History({ work }: { work: Work }): JSX.Element {
  const id = work.job.id;
  const [list, setList] = useState<Revision[] | undefined>();
  const [told, setTold] = useState("");
  const [seen, setSeen] = useState<{ title: string; text: string } | undefined>();
  const load = (): void => {
    call<{ revisions: Revision[] }>("GET", `/api/jobs/${encodeURIComponent(id)}/revisions`).then((r) => setList(r.revisions), (e: Error) => setTold(e.message));
  };
  useEffect(load, [id, work.job.tag]);
  const last = list?.[0]?.number ?? 0;
  const attempt = async (f: () => Promise<void>): Promise<void> => {
    try {
      await f();
      setTold("");
    } catch (err) {
      setTold(err instanceof Error ? err.message : String(err));
    }
  };
  return (
    <>
      <h1>History</h1>
      {told ? <p class="told warning">{told}</p> : null}
      <div class="wide">
        <table>
          <thead>
            <tr>
              <th class="number">Revision</th>
              <th>When</th>
              <th>Who</th>
              <th>Why</th>
              <th>
                <span class="skip">What can be done</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {(list ?? []).map((r) => (
              <tr key={r.number}>
                <td class="number">{r.number}</td>
                <td>{new Date(r.at).toLocaleString()}</td>
                <td>{r.by}</td>
                <td>{r.note}</td>
                <td class="row">
                  <button onClick={() => void attempt(async () => setSeen({ title: `Revision ${r.number}`, text: (await call<{ text: string }>("GET", `/api/jobs/${encodeURIComponent(id)}/revisions/${r.number}`)).text }))}>See</button>
                  {r.number !== last ? (
                    <>
                      <button onClick={() => void attempt(async () => setSeen({ title: `What changed from ${r.number} to ${last}`, text: (await api.compare(id, r.number, last)).text }))}>Compare</button>
                      <button
                        onClick={() =>
                          void attempt(async () => {
                            await api.restore(id, r.number, work.job.tag);
                            await take(id);
                            load();
                          })
                        }
                      >
                        Restore
                      </button>
                    </>
                  ) : null}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {seen ? (
        <section class="sheet">
          <h2>{seen.title}</h2>
          <pre class="wide" tabIndex={0}>
            {seen.text}
          </pre>
        </section>
      ) : null}
    </>
  );
}
