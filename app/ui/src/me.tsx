// Who holds this device: the name on readings, the account, its password.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { api, type Session } from "./api";
import { keep } from "./keep";
import { say } from "./language";
import { meet, session, signIn } from "./session";
import { signal } from "./sync";

export const roles: Record<string, () => string> = {
  owner: () => say("app.role-owner"),
  estimator: () => say("app.role-estimator"),
  crew: () => say("app.role-crew"),
  saw: () => say("app.role-saw"),
};

export function Me(): JSX.Element {
  const s = session();
  const [me, setMe] = useState("");
  useEffect(() => {
    void keep.get("me").then(setMe);
  }, []);
  return (
    <>
      <h1>{say("app.you")}</h1>
      <section class="sheet narrow">
        <label>
          {say("app.signs-readings")}
          <input
            value={me}
            maxLength={40}
            autocomplete="name"
            onInput={(e) => {
              setMe(e.currentTarget.value);
              void keep.set("me", e.currentTarget.value.trim());
            }}
          />
        </label>
      </section>
      {s?.accounts ? <Account s={s} /> : <p class="quiet">{say("app.no-accounts")}</p>}
    </>
  );
}

function Account({ s }: { s: Session }): JSX.Element {
  const [old, setOld] = useState("");
  const [fresh, setFresh] = useState("");
  const [told, setTold] = useState<{ text: string; good: boolean } | undefined>();
  const change = async (e: Event): Promise<void> => {
    e.preventDefault();
    try {
      await api.changePassword(old, fresh);
      setTold({ text: say("app.password-changed"), good: true });
      setOld("");
      setFresh("");
    } catch (err) {
      setTold({ text: err instanceof Error ? err.message : String(err), good: false });
    }
  };
  const leave = async (): Promise<void> => {
    await api.signOut().catch(() => undefined);
    await keep.set("me", "");
    await meet();
    signIn();
  };
  return (
    <>
      <section class="sheet narrow">
        <p>{say("app.signed-in-as", { name: s.name ?? "", role: roles[s.role]?.() ?? s.role })}</p>
        {signal.waiting ? <p class="told warning">{say("app.sign-out-first")}</p> : null}
        <button onClick={() => void leave()}>{say("app.sign-out")}</button>
      </section>
      <form class="sheet narrow" onSubmit={(e) => void change(e)}>
        <h2>{say("app.change-password")}</h2>
        <input class="unseen" autocomplete="username" value={s.name ?? ""} readOnly tabIndex={-1} aria-hidden="true" />
        <label>
          {say("app.old-password")}
          <input type="password" autocomplete="current-password" value={old} required onInput={(e) => setOld(e.currentTarget.value)} />
        </label>
        <label>
          {say("app.new-password")}
          <input type="password" autocomplete="new-password" value={fresh} required onInput={(e) => setFresh(e.currentTarget.value)} />
        </label>
        {told ? (
          <p class={`told ${told.good ? "good" : "error"}`} role="alert">
            {told.text}
          </p>
        ) : null}
        <button class="main">{say("app.change-password")}</button>
      </form>
    </>
  );
}
