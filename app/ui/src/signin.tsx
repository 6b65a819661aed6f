import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { api } from "./api";
import { say } from "./language";
import { signedIn } from "./session";
import { nudge } from "./sync";

export function SignIn(): JSX.Element {
  const [name, setName] = useState("");
  const [password, setPassword] = useState("");
  const [told, setTold] = useState("");
  const go = async (e: Event): Promise<void> => {
    e.preventDefault();
    try {
      await api.signIn(name.trim(), password);
      await signedIn();
      nudge();
    } catch (err) {
      setTold(err instanceof Error ? err.message : String(err));
      setPassword("");
    }
  };
  return (
    <form class="sheet narrow" onSubmit={(e) => void go(e)}>
      <h1>{say("app.sign-in")}</h1>
      <label>
        {say("app.name")}
        <input value={name} autocomplete="username" autocapitalize="words" spellcheck={false} required onInput={(e) => setName(e.currentTarget.value)} />
      </label>
      <label>
        {say("app.password")}
        <input type="password" value={password} autocomplete="current-password" required onInput={(e) => setPassword(e.currentTarget.value)} />
      </label>
      {told ? (
        <p class="told error" role="alert">
          {told}
        </p>
      ) : null}
      <button class="main">{say("app.sign-in")}</button>
    </form>
  );
}
