// The shop's own files: kits, price books, yards. They are the files that the
// command line reads.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { call, NoSignal, Refused } from "./api";
import { ask } from "./engine";
import type { Choices } from "./made/answers";
import type { Place } from "./places";
import { Revisions, type Revision } from "./revisions";
import { office } from "./session";
import { Editor } from "./shopedit";
import { at, freshen, kinds, shelf, type Head, type Kind } from "./shelf";

const names: Record<Kind, string> = { kits: "Kits", prices: "Price books", yards: "Lumber yards" };

const about: Record<Kind, string> = {
  kits: "What the shop makes: posts, tubes, doors, hardware, and the rules by which they go together. A job names one: kit: ./our-line.yaml",
  prices: "What things cost the shop, and how prices follow. A job names one: prices: spring.yaml. Crews never see them.",
  yards: "What a lumber yard sells, at what price, how soon. A job takes its boards from one: lumber: {yard: mill-lane.yaml}. A .csv is a stock list for stallwright cut.",
};

/** Fresh is a file that the server does not have yet. */
interface Open {
  name: string;
  text: string;
  tag: string;
}

export function Shop({ place }: { place: Place }): JSX.Element {
  const kind = kinds().find((k) => k === place.room) ?? "kits";
  const [files, setFiles] = useState<Head[] | undefined>();
  const [away, setAway] = useState(false);
  const [told, setTold] = useState("");
  const [open, setOpen] = useState<Open | undefined>();
  const [history, setHistory] = useState<{ name: string; list: Revision[] } | undefined>();
  const load = async (): Promise<void> => {
    try {
      setFiles((await call<{ files: Head[] }>("GET", at(kind))).files);
      setAway(false);
      void freshen();
    } catch (err) {
      if (!(err instanceof NoSignal)) {
        setTold(err instanceof Error ? err.message : String(err));
        return;
      }
      setAway(true);
      const held = await shelf();
      setFiles(
        Object.entries(held)
          .filter(([name]) => name.startsWith(kind + "/"))
          .map(([name, f]) => ({ kind, name: name.slice(kind.length + 1), title: f.title, revision: 0, tag: f.tag, changed: "", ...(f.deleted ? { deleted: "yes" } : {}) })),
      );
    }
  };
  useEffect(() => {
    setOpen(undefined);
    setHistory(undefined);
    setTold("");
    void load();
  }, [kind]);
  const attempt = async (f: () => Promise<unknown>): Promise<void> => {
    try {
      await f();
      setTold("");
    } catch (err) {
      setTold(err instanceof NoSignal ? "No signal: the shop is changed where there is some." : err instanceof Error ? err.message : String(err));
    }
  };
  const look = (name: string): Promise<void> =>
    attempt(async () => {
      const held = (await shelf())[`${kind}/${name}`];
      try {
        setOpen(await call<Open>("GET", at(kind, name)));
      } catch (err) {
        if (!(err instanceof NoSignal) || !held) throw err;
        setOpen({ name, text: held.text, tag: held.tag });
      }
      setHistory(undefined);
    });
  const past = (name: string): Promise<void> =>
    attempt(async () => {
      setHistory({ name, list: (await call<{ revisions: Revision[] }>("GET", at(kind, name) + "/revisions")).revisions });
      setOpen(undefined);
    });
  const bring = async (e: Event): Promise<void> => {
    const input = e.currentTarget as HTMLInputElement;
    const file = input.files?.[0];
    input.value = "";
    if (!file) return;
    if (file.size > 2_000_000) {
      setTold(`${file.name} is larger than such a file can be (2 MB).`);
      return;
    }
    const there = files?.find((f) => f.name === file.name);
    setOpen({ name: file.name, text: await file.text(), tag: there?.tag ?? "" });
    setHistory(undefined);
    setTold("");
  };
  return (
    <>
      <h1>Shop</h1>
      <nav class="row" aria-label="Kinds of file">
        {kinds().map((k) => (
          <a key={k} class="button" href={`#/shop/${k}`} {...(k === kind ? { "aria-current": "page" as const } : {})}>
            {names[k]}
          </a>
        ))}
      </nav>
      <p class="quiet">{about[kind]}</p>
      {away ? <p class="told warning">No signal. These are the files that this device keeps; they can be read, and changed where there is signal.</p> : null}
      {told ? (
        <p class="told error" role="alert">
          {told}
        </p>
      ) : null}
      {files === undefined ? <progress aria-label="Reading the shop" /> : null}
      <ul class="list grid">
        {(files ?? []).map((f) => (
          <li key={f.name} class="sheet">
            <h2 dir="auto">{f.name}</h2>
            <p dir="auto">{f.title}</p>
            <p class="quiet">
              {f.revision ? `revision ${f.revision}, ${new Date(f.changed).toLocaleDateString()}` : "on this device"}
              {f.deleted ? ", deleted: jobs that name it are still planned with it" : ""}
            </p>
            <div class="row">
              <button aria-label={`Open ${f.name}`} onClick={() => void look(f.name)}>Open</button>
              <button aria-label={`History of ${f.name}`} onClick={() => void past(f.name)}>History</button>
              <a class="button" aria-label={`Download ${f.name}`} href={at(kind, f.name) + "/file"} download={f.name}>Download</a>
              {!office() ? null : f.deleted ? (
                <button aria-label={`Bring ${f.name} back`} onClick={() => void attempt(async () => { await call("POST", at(kind, f.name) + "/bring-back"); await load(); })}>Bring back</button>
              ) : (
                <button class="bad" aria-label={`Delete ${f.name}`} onClick={() => void attempt(async () => { await call("DELETE", at(kind, f.name)); await load(); })}>Delete</button>
              )}
            </div>
          </li>
        ))}
      </ul>
      {files?.length === 0 ? <p class="quiet">Nothing here yet.</p> : null}
      {office() && !open ? <Begin kind={kind} begin={(name, text) => { setOpen({ name, text, tag: "" }); setHistory(undefined); }} bring={(e) => void bring(e)} /> : null}
      {open ? (
        <Editor
          key={open.name + open.tag}
          kind={kind}
          name={open.name}
          text={open.text}
          tag={open.tag}
          done={async () => {
            setOpen(undefined);
            await load();
          }}
        />
      ) : null}
      {history ? (
        <section class="stack" aria-label={`History of ${history.name}`}>
          <h2>History of {history.name}</h2>
          <Revisions
            key={history.name}
            list={history.list}
            text={async (n) => (await call<{ text: string }>("GET", `${at(kind, history.name)}/revisions/${n}`)).text}
            restore={async (n) => {
              const { text } = await call<{ text: string }>("GET", `${at(kind, history.name)}/revisions/${n}`);
              const { tag } = await call<{ tag: string }>("GET", at(kind, history.name));
              try {
                await call("PUT", at(kind, history.name), { text, note: `revision ${n} again` }, { "If-Match": `"${tag}"` });
              } catch (err) {
                if (err instanceof Refused && err.status === 422) throw new Error(`Revision ${n} does not read any more: ${err.message}`);
                throw err;
              }
              await load();
              await past(history.name);
            }}
          />
        </section>
      ) : null}
    </>
  );
}

/** Begin starts a file: from a commented one to change, or from one on this machine. */
function Begin({ kind, begin, bring }: { kind: Kind; begin: (name: string, text: string) => void; bring: (e: Event) => void }): JSX.Element {
  const [shipped, setShipped] = useState<string[]>([]);
  useEffect(() => {
    if (kind === "kits") ask<Choices>("choices", { job: "" }).then((c) => setShipped((c.kits ?? []).map((k) => k.name)), () => undefined);
  }, [kind]);
  const from = async (starter: string, name: string): Promise<void> => begin(name, await ask<string>("starter", { job: "", about: starter }));
  return (
    <section class="sheet" aria-label="Add a file">
      <h2>Add a file</h2>
      <div class="row">
        {kind === "kits" ? shipped.map((k) => <button key={k} onClick={() => void from("kit " + k, "our-line.yaml")}>Begin with a copy of {k}</button>) : null}
        {kind === "prices" ? <button onClick={() => void from("prices", "our-prices.yaml")}>Begin a price book</button> : null}
        {kind === "yards" ? <button onClick={() => void from("yard", "our-yard.yaml")}>Begin a yard's list</button> : null}
      </div>
      <label>
        Or bring a file
        <input type="file" accept={kind === "yards" ? ".yaml,.yml,.csv" : ".yaml,.yml"} onChange={bring} />
      </label>
    </section>
  );
}
