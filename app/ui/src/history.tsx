// Every text the job ever had: see, compare, restore.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { api, call } from "./api";
import { Revisions, type Revision } from "./revisions";
import { take } from "./sync";
import type { Work } from "./work";

export function History({ work }: { work: Work }): JSX.Element {
  const id = work.job.id;
  const at = `/api/jobs/${encodeURIComponent(id)}/revisions`;
  const [list, setList] = useState<Revision[] | undefined>();
  const [told, setTold] = useState("");
  const load = (): void => {
    call<{ revisions: Revision[] }>("GET", at).then(
      (r) => {
        setList(r.revisions);
        setTold("");
      },
      (e: Error) => setTold(e.message === "no signal" ? "The history is on the server: it is seen where there is signal." : e.message),
    );
  };
  useEffect(load, [id, work.job.tag]);
  return (
    <>
      <h1>History</h1>
      {told ? <p class="told warning">{told}</p> : null}
      {list ? (
        <Revisions
          list={list}
          text={async (n) => (await call<{ text: string }>("GET", `${at}/${n}`)).text}
          plans={async (from, to) => (await api.compare(id, from, to)).text}
          restore={async (n) => {
            await api.restore(id, n, work.job.tag);
            await take(id);
            load();
          }}
        />
      ) : told ? null : (
        <progress aria-label="Reading the history" />
      )}
    </>
  );
}
