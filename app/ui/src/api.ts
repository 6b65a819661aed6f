// The server's API, as /openapi.json describes it.
import type { Rec } from "./keep";
import type { Document } from "./made/answers";

export interface JobHead {
  id: string;
  title: string;
  farm: string;
  revision: number;
  tag: string;
  seq: number;
  created: string;
  changed: string;
  deleted?: string;
}

export interface TakeAlong {
  job: JobHead & { text: string };
  kit?: { name: string; text: string };
  yard?: { name: string; text: string };
  prices?: { name: string; text: string };
  records: Rec[];
  photos: { id: string; place: string; note?: string; taken?: string; by?: string }[];
  seq: number;
}

export interface Session {
  role: string;
  name?: string;
  accounts: boolean;
}

/** Refused is what the server says no to. */
export class Refused extends Error {
  constructor(
    readonly status: number,
    message: string,
    readonly body: unknown,
  ) {
    super(message);
  }
}

/** NoSignal says that the server was not reached. */
export class NoSignal extends Error {}

export async function call<T>(method: string, path: string, body?: unknown, headers: Record<string, string> = {}): Promise<T> {
  let r: Response;
  try {
    const init: RequestInit = { method, headers: { Accept: "application/json", ...headers } };
    if (body instanceof Blob) init.body = body;
    else if (body !== undefined) {
      init.body = JSON.stringify(body);
      init.headers = { ...init.headers, "Content-Type": "application/json" };
    }
    r = await fetch(path, init);
  } catch {
    throw new NoSignal("no signal");
  }
  // A proxy whose server is away, or a server that is busy, is as good as no signal.
  if ([429, 502, 503, 504].includes(r.status) && !(path === "/api/session" && method === "POST")) throw new NoSignal("no signal");
  const text = await r.text();
  let answer: unknown;
  try {
    answer = text ? JSON.parse(text) : undefined;
  } catch {
    answer = text;
  }
  if (!r.ok) {
    const told = answer as { detail?: string; title?: string; errors?: { message?: string; location?: string }[] } | undefined;
    const more = (told?.errors ?? []).map((e) => e.message).filter(Boolean);
    throw new Refused(r.status, [told?.detail ?? told?.title ?? `the server answered ${r.status}`, ...more].join("; "), answer);
  }
  return answer as T;
}

const job = (id: string): string => "/api/jobs/" + encodeURIComponent(id);

export const api = {
  session: () => call<Session>("GET", "/api/session"),
  signIn: (name: string, password: string) => call<Session>("POST", "/api/session", { name, password }),
  signOut: () => call<void>("DELETE", "/api/session"),
  changePassword: (old: string, fresh: string) => call<Session>("PUT", "/api/session/password", { old, new: fresh }),
  jobs: () => call<{ jobs: JobHead[] }>("GET", "/api/jobs"),
  takeAlong: (id: string) => call<TakeAlong>("GET", job(id) + "/take-along"),
  save: (id: string, text: string, tag: string, note = "") => call<JobHead>("PUT", job(id), { text, ...(note ? { note } : {}) }, tag ? { "If-Match": `"${tag}"` } : { "If-None-Match": "*" }),
  remove: (id: string) => call<void>("DELETE", job(id)),
  addRecords: (id: string, records: Rec[]) => call<{ results: { id?: string; new: boolean; refused?: string }[] }>("POST", job(id) + "/records", { records }),
  addPhoto: (id: string, photo: string, data: Blob, place: string, note: string, taken: string, by: string) =>
    call<void>("PUT", `${job(id)}/photos/${photo}?${new URLSearchParams({ place, note, taken, by })}`, data, { "Content-Type": data.type }),
  photos: (id: string) => call<{ photos: { id: string; place: string; note?: string; by?: string; taken?: string }[] }>("GET", job(id) + "/photos"),
  photo: (id: string, photo: string): string => `${job(id)}/photos/${encodeURIComponent(photo)}`,
  compare: (id: string, from: number, to: number) => call<{ text: string }>("GET", `${job(id)}/compare?from=${from}&to=${to}`),
  restore: (id: string, number: number, tag: string) => call<JobHead>("POST", `${job(id)}/revisions/${number}/restore`, undefined, { "If-Match": `"${tag}"` }),
  plan: (id: string) => call<Document>("GET", job(id) + "/plan"),
  files: (id: string) => call<{ files: { name: string; bytes: number }[] }>("GET", job(id) + "/files"),
  live: (id: string): string => job(id) + "/live",
};
