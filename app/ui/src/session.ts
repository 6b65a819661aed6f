// Who holds this device, as the server knows it; kept, so that a day without
// signal shows the same places.
import { api, type Session } from "./api";
import { keep } from "./keep";

let now: Session | undefined;
const watchers = new Set<() => void>();

/** session is undefined until it is known. */
export const session = (): Session | undefined => now;

export function onSession(f: () => void): () => void {
  watchers.add(f);
  return () => watchers.delete(f);
}

/** office says that this person plans; a server without accounts lets everybody. */
export const office = (): boolean => !now?.accounts || now.role === "owner" || now.role === "estimator";

/** shut says that the server wants one to sign in. */
export const shut = (): boolean => !!now?.accounts && now.role === "nobody";

/** owner says that this person sees accounts. */
export const owner = (): boolean => !!now?.accounts && now.role === "owner";

/** measures says that this person may hand in readings and steps. */
export const measures = (): boolean => office() || now?.role === "crew";

/** meet asks the server who this is, or goes by what it said last. */
export async function meet(): Promise<Session | undefined> {
  try {
    now = await api.session();
    await keep.set("session", JSON.stringify(now));
    if (now.accounts && now.name && !(await keep.get("me"))) await keep.set("me", now.name.slice(0, 40));
  } catch {
    const had = await keep.get("session");
    now = had ? (JSON.parse(had) as Session) : undefined;
  }
  watchers.forEach((f) => f());
  return now;
}

const after = "after signing in";

/** signIn goes to where one signs in, and remembers the place to come back to. */
export function signIn(): void {
  if (location.hash.startsWith("#/sign-in")) return;
  sessionStorage.setItem(after, location.hash);
  location.hash = "#/sign-in";
}

/** signedIn goes back to where it was asked for. */
export async function signedIn(): Promise<void> {
  await meet();
  location.hash = sessionStorage.getItem(after) || "#/";
  sessionStorage.removeItem(after);
}
