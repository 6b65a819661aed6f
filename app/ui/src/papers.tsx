// What leaves the computer: made by the server, with the same code as here.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { api, call } from "./api";
import { office } from "./session";
import type { Work } from "./work";

interface Link {
  id: string;
  label: string;
  expires: string;
  revoked?: string;
  path?: string;
}

export function Papers({ work }: { work: Work }): JSX.Element {
  const id = work.job.id;
  const [files, setFiles] = useState<{ name: string; bytes: number }[] | undefined>();
  const [told, setTold] = useState("");
  useEffect(() => {
    api.files(id).then((r) => setFiles(r.files), (e: Error) => setTold(`The papers are made by the server: ${e.message}.`));
  }, [id, work.job.tag]);
  const at = "/api/jobs/" + encodeURIComponent(id);
  return (
    <>
      <h1>Papers</h1>
      {work.job.changed ? <p class="told warning">What was changed last is not sent yet: these papers are of the revision before.</p> : null}
      {told ? <p class="told warning">{told}</p> : null}
      <div class="row">
        <a class="button main" href={at + "/packet.zip"}>All papers, zipped</a>
        <a class="button" href={at + "/export"}>Job, kit and notebook as files</a>
      </div>
      {files === undefined && !told ? <p>Making the papers… <progress /></p> : null}
      <ul class="list grid">
        {(files ?? []).map((f) => (
          <li key={f.name} class="sheet">
            <a href={`${at}/file?name=${encodeURIComponent(f.name)}`}>{f.name}</a>
            <span class="quiet">{f.bytes < 10_000 ? `${f.bytes} bytes` : `${Math.round(f.bytes / 1000)} kB`}</span>
          </li>
        ))}
      </ul>
      {office() ? <Links at={at} /> : null}
    </>
  );
}

/** Links let a customer see one job's drawings, for a while. */
function Links({ at }: { at: string }): JSX.Element | null {
  const [links, setLinks] = useState<Link[] | undefined>();
  const [label, setLabel] = useState("");
  const [made, setMade] = useState<Link | undefined>();
  const load = (): void => {
    call<{ links: Link[] }>("GET", at + "/links").then((r) => setLinks(r.links), () => setLinks(undefined));
  };
  useEffect(load, [at]);
  if (!links) return null;
  const add = async (e: Event): Promise<void> => {
    e.preventDefault();
    setMade(await call<Link>("POST", at + "/links", { label: label || "customer" }));
    setLabel("");
    load();
  };
  return (
    <section class="sheet">
      <h2>For the customer</h2>
      <form class="row" onSubmit={(e) => void add(e)}>
        <label>
          For whom
          <input value={label} maxLength={100} onInput={(e) => setLabel(e.currentTarget.value)} />
        </label>
        <button>Make a link</button>
      </form>
      {made?.path ? (
        <p class="told good">
          Shown once, copy it now: <code>{location.origin + made.path}</code>
        </p>
      ) : null}
      <ul class="list">
        {links.map((l) => (
          <li key={l.id} class="row">
            {l.label}, until {l.expires.slice(0, 10)} {l.revoked ? <b>ended</b> : <button class="bad" onClick={() => void call("DELETE", `${at}/links/${l.id}`).then(load)}>End it</button>}
          </li>
        ))}
      </ul>
    </section>
  );
}
