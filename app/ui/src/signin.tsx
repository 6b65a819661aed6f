import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { api } from "./api";

export function SignIn(): JSX.Element {
  const [name, setName] = useState("");
  const [password, setPassword] = useState("");
  const [told, setTold] = useState("");
  const go = async (e: Event): Promise<void> => {
    e.preventDefault();
    try {
      await api.signIn(name, password);
      location.hash = "#/";
      location.reload();
    } catch (err) {
      setTold(err instanceof Error ? err.message : String(err));
      setPassword("");
    }
  };
  return (
    <form class="sheet narrow" onSubmit={(e) => void go(e)}>
      <h1>Sign in</h1>
      <label>
        Name
        <input value={name} autocomplete="username" onInput={(e) => setName(e.currentTarget.value)} />
      </label>
      <label>
        Password
        <input type="password" value={password} autocomplete="current-password" onInput={(e) => setPassword(e.currentTarget.value)} />
      </label>
      {told ? (
        <p class="told error" role="alert">
          {told}
        </p>
      ) : null}
      <button class="main">Sign in</button>
    </form>
  );
}
