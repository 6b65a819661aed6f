// Who can sign in, as what, and what was done.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { call } from "./api";

interface Account {
  id: string;
  name: string;
  role: string;
  disabled?: string;
}

interface Trace {
  n: number;
  at: string;
  account: string;
  action: string;
  what: string;
}

const roles = ["owner", "estimator", "crew", "saw"];

export function People(): JSX.Element {
  const [list, setList] = useState<Account[]>([]);
  const [trail, setTrail] = useState<Trace[]>([]);
  const [told, setTold] = useState("");
  const [fresh, setFresh] = useState({ name: "", role: "crew", password: "" });
  const load = (): void => {
    call<{ accounts: Account[] }>("GET", "/api/accounts").then((r) => setList(r.accounts), (e: Error) => setTold(e.message));
    call<{ lines: Trace[] }>("GET", "/api/audit").then((r) => setTrail(r.lines), () => undefined);
  };
  useEffect(load, []);
  const attempt = async (f: () => Promise<unknown>): Promise<void> => {
    try {
      await f();
      setTold("");
      load();
    } catch (err) {
      setTold(err instanceof Error ? err.message : String(err));
    }
  };
  return (
    <>
      <h1>People</h1>
      {told ? (
        <p class="told error" role="alert">
          {told}
        </p>
      ) : null}
      <ul class="list grid">
        {list.map((a) => (
          <li key={a.id} class="sheet">
            <h2>{a.name}</h2>
            <label>
              Role
              <select value={a.role} onChange={(e) => void attempt(() => call("PATCH", "/api/accounts/" + a.id, { role: e.currentTarget.value }))}>
                {roles.map((r) => (
                  <option key={r}>{r}</option>
                ))}
              </select>
            </label>
            <button class={a.disabled ? "" : "bad"} onClick={() => void attempt(() => call("PATCH", "/api/accounts/" + a.id, { disabled: !a.disabled }))}>
              {a.disabled ? "Let in again" : "Shut out"}
            </button>
          </li>
        ))}
      </ul>
      <form
        class="sheet narrow"
        onSubmit={(e) => {
          e.preventDefault();
          void attempt(() => call("POST", "/api/accounts", fresh)).then(() => setFresh({ name: "", role: "crew", password: "" }));
        }}
      >
        <h2>Let somebody sign in</h2>
        <label>
          Name
          <input value={fresh.name} autocomplete="off" onInput={(e) => setFresh({ ...fresh, name: e.currentTarget.value })} />
        </label>
        <label>
          Role
          <select value={fresh.role} onChange={(e) => setFresh({ ...fresh, role: e.currentTarget.value })}>
            {roles.map((r) => (
              <option key={r}>{r}</option>
            ))}
          </select>
        </label>
        <label>
          First password
          <input type="password" autocomplete="new-password" value={fresh.password} onInput={(e) => setFresh({ ...fresh, password: e.currentTarget.value })} />
        </label>
        <button class="main">Add</button>
      </form>
      <section class="sheet wide">
        <h2>What was done</h2>
        <table>
          <thead>
            <tr>
              <th>When</th>
              <th>Who</th>
              <th>Did</th>
              <th>What</th>
            </tr>
          </thead>
          <tbody>
            {trail.map((t) => (
              <tr key={t.n}>
                <td>{new Date(t.at).toLocaleString()}</td>
                <td>{t.account}</td>
                <td>{t.action}</td>
                <td>{t.what}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </>
  );
}
