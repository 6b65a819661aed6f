// The shop's own files: kits, price books, yards. They are the files that the
// command line reads.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { call, Refused } from "./api";
import type { Place } from "./places";

interface Head {
  kind: string;
  name: string;
  title: string;
  revision: number;
  tag: string;
  changed: string;
  deleted?: string;
}

const kinds: [kind: string, name: string][] = [
  ["kits", "Kits"],
  ["prices", "Price books"],
  ["yards", "Lumber yards"],
];

export function Shop({ place }: { place: Place }): JSX.Element {
  const kind = place.room || "kits";
  const [files, setFiles] = useState<Head[]>([]);
  const [told, setTold] = useState<string[]>([]);
  const [open, setOpen] = useState<(Head & { text: string }) | undefined>();
  const at = "/api/shop/" + encodeURIComponent(kind);
  const load = (): void => {
    call<{ files: Head[] }>("GET", at).then((r) => setFiles(r.files), (e: Error) => setTold([e.message]));
  };
  useEffect(() => {
    setOpen(undefined);
    setTold([]);
    load();
  }, [kind]);
  const save = async (name: string, text: string, tag: string): Promise<void> => {
    try {
      await call("PUT", `${at}/${encodeURIComponent(name)}`, { text }, tag ? { "If-Match": `"${tag}"` } : { "If-None-Match": "*" });
      setTold([]);
      setOpen(undefined);
      load();
    } catch (err) {
      setTold(err instanceof Refused ? err.message.split("; ") : [String(err)]);
    }
  };
  const bring = async (e: Event): Promise<void> => {
    const file = (e.currentTarget as HTMLInputElement).files?.[0];
    if (file) await save(file.name, await file.text(), files.find((f) => f.name === file.name)?.tag ?? "");
  };
  return (
    <>
      <h1>Shop</h1>
      <nav class="row" aria-label="Kinds of file">
        {kinds.map(([k, name]) => (
          <a key={k} class="button" href={`#/shop/${k}`} {...(k === kind ? { "aria-current": "page" as const } : {})}>
            {name}
          </a>
        ))}
      </nav>
      {told.map((t) => (
        <p key={t} class="told error" role="alert">
          {t}
        </p>
      ))}
      <ul class="list grid">
        {files.map((f) => (
          <li key={f.name} class="sheet">
            <h2>{f.name}</h2>
            <p>{f.title}</p>
            <p class="quiet">
              revision {f.revision}
              {f.deleted ? ", deleted" : ""}
            </p>
            <div class="row">
              <button onClick={() => void call<Head & { text: string }>("GET", `${at}/${encodeURIComponent(f.name)}`).then(setOpen, (e: Error) => setTold([e.message]))}>Open</button>
              <a class="button" href={`${at}/${encodeURIComponent(f.name)}/file`}>Download</a>
              {f.deleted ? (
                <button onClick={() => void call("POST", `${at}/${encodeURIComponent(f.name)}/bring-back`).then(load)}>Bring back</button>
              ) : (
                <button class="bad" onClick={() => void call("DELETE", `${at}/${encodeURIComponent(f.name)}`).then(load)}>Delete</button>
              )}
            </div>
          </li>
        ))}
      </ul>
      {files.length === 0 ? <p class="quiet">Nothing here yet.</p> : null}
      <label class="sheet">
        Bring a file
        <input type="file" accept=".yaml,.yml" onChange={(e) => void bring(e)} />
      </label>
      {open ? (
        <section class="sheet">
          <label>
            {open.name}
            <textarea class="code" spellcheck={false} rows={24} value={open.text} onInput={(e) => setOpen({ ...open, text: e.currentTarget.value })} />
          </label>
          <div class="row">
            <button class="main" onClick={() => void save(open.name, open.text, open.tag)}>Save</button>
            <button onClick={() => setOpen(undefined)}>Close</button>
          </div>
        </section>
      ) : null}
    </>
  );
}
