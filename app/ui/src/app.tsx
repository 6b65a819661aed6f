import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { Barn } from "./barn/barn";
import { Day } from "./day/day";
import { Desk } from "./desk/desk";
import { History } from "./history";
import { Jobs } from "./jobs";
import { keep } from "./keep";
import { choose, language, languages, ofJob, onLanguage, say } from "./language";
import { Me } from "./me";
import { Papers } from "./papers";
import { People } from "./people";
import { address, usePlace, type Place } from "./places";
import { SawRoom } from "./saw/saw";
import { measures, meet, office, onSession, owner, session, shut, signIn } from "./session";
import { Shop } from "./shop";
import { SignIn } from "./signin";
import { follow, forgive, nudge, onSignal, onTaken, settle, signal, take } from "./sync";
import { useTurn } from "./turn";
import { Work } from "./work";

interface Room {
  at: string;
  name: string;
  address: string;
}

/** rooms are the places that this person goes to from where they are. */
function rooms(place: Place): Room[] {
  if (place.part !== "job") {
    return [
      { at: "jobs", name: say("app.jobs"), address: "#/" },
      { at: "shop", name: say("app.shop"), address: "#/shop" },
      ...(owner() ? [{ at: "people", name: say("app.people"), address: "#/people" }] : []),
      { at: "me", name: say("app.you"), address: "#/me" },
    ];
  }
  const all: [at: string, name: string, may: boolean][] = [
    ["desk", say("app.desk"), office()],
    ["barn", say("app.measure"), measures()],
    ["saw", say("app.saw"), true],
    ["day", say("app.steps"), measures()],
    ["papers", say("app.papers"), true],
    ["history", say("app.history"), office()],
  ];
  return all.filter(([, , may]) => may).map(([at, name]) => ({ at, name, address: address(place.job, at) }));
}

/** roomOf is the place within a job; where the address names none, the one that
 * this person works at. */
const roomOf = (place: Place): string => place.room || (office() ? "desk" : measures() ? "barn" : "saw");

export function App(): JSX.Element {
  const place = usePlace();
  const turn = useTurn();
  useEffect(() => {
    const stops = [onSignal(turn), onSession(turn), onLanguage(turn)];
    return () => stops.forEach((f) => f());
  }, []);
  useEffect(() => {
    nudge();
    void (async () => {
      await meet();
      // Who holds a job on the device goes on with it; it is sent after signing in.
      if (shut() && !(place.part === "job" && (await keep.job(place.job)))) signIn();
    })();
  }, [place.part]);
  return (
    <>
      <a class="skip" href="#content" onClick={(e) => { e.preventDefault(); document.getElementById("content")?.focus(); }}>
        {say("app.to-content")}
      </a>
      <Top place={place} />
      <main id="content" tabIndex={-1}>
        <Told place={place} />
        <Part place={place} />
      </main>
    </>
  );
}

/** Top is one line on a phone: the places behind a button, what is still to be sent
 * always in sight. */
function Top({ place }: { place: Place }): JSX.Element {
  const [open, setOpen] = useState(false);
  const bar = useRef<HTMLElement>(null);
  const opener = useRef<HTMLButtonElement>(null);
  useEffect(() => setOpen(false), [place.part, place.room, place.job]);
  useEffect(() => {
    if (!open) return;
    const away = (e: Event): void => {
      if (!bar.current?.contains(e.target as Node)) setOpen(false);
    };
    const key = (e: KeyboardEvent): void => {
      if (e.key !== "Escape") return;
      setOpen(false);
      opener.current?.focus();
    };
    addEventListener("pointerdown", away);
    addEventListener("keydown", key);
    return () => {
      removeEventListener("pointerdown", away);
      removeEventListener("keydown", key);
    };
  }, [open]);
  const all = rooms(place);
  const here = place.part === "job" ? roomOf(place) : place.part;
  const name = all.find((r) => r.at === here)?.name ?? "";
  return (
    <header class="top" ref={bar}>
      <a class="brand" href="#/" aria-label={`Stallwright: ${say("app.jobs")}`}>
        <img src="/icon.svg" alt="" width="32" height="32" />
        <span class="word">Stallwright</span>
      </a>
      <button ref={opener} class="places" aria-expanded={open} aria-controls="places" aria-label={say("app.menu", { place: name })} onClick={() => setOpen(!open)}>
        {name || say("app.places")} <span aria-hidden="true">{open ? "▴" : "▾"}</span>
      </button>
      <div id="places" class={open ? "drawer open" : "drawer"}>
        <nav aria-label={say("app.places")}>
          {all.map((r) => (
            <a key={r.at} href={r.address} {...(r.at === here ? { "aria-current": "page" as const } : {})} onClick={() => setOpen(false)}>
              {r.name}
            </a>
          ))}
          {place.part === "job" ? (
            <a class="narrow-only" href="#/" onClick={() => setOpen(false)}>
              {say("app.jobs")}
            </a>
          ) : null}
        </nav>
        <label class="inline tongue">
          <span>{say("app.language")}</span>
          <select value={language()} onChange={(e) => void choose(e.currentTarget.value)}>
            {languages.map((l) => (
              <option key={l.tag} value={l.tag} lang={l.tag}>
                {l.name}
              </option>
            ))}
          </select>
        </label>
      </div>
      <p class={`state ${signal.state} ${signal.waiting ? "waits" : ""}`} role="status">
        {sending()}
      </p>
    </header>
  );
}

function sending(): JSX.Element | string {
  if (signal.state === "locked") return <a href="#/sign-in">{say("app.sign-in-to-send")}</a>;
  const waiting = signal.waiting ? say("app.waiting", { n: signal.waiting }) : "";
  if (signal.state === "away") return [say("app.no-signal"), waiting].filter(Boolean).join(" · ");
  return waiting || (signal.state === "here" ? say("app.all-sent") : "");
}

/** Told shows what the server refused, and a text that two people changed. */
function Told({ place }: { place: Place }): JSX.Element | null {
  const c = signal.conflict;
  // In the barn the head says it, and the screen belongs to the reading.
  const atWork = place.part === "job" && ["barn", "saw", "day"].includes(roomOf(place));
  return (
    <>
      {signal.state === "away" && !atWork ? <p class="told warning no-print">{say("app.away")}</p> : null}
      {signal.refused.map((r) => (
        <div key={r} class="told error row" role="alert">
          <p class="grow" dir="auto">
            {r}
          </p>
          <button onClick={() => forgive(r)}>{say("app.close")}</button>
        </div>
      ))}
      {c ? (
        <section class="told warning stack" role="alert">
          <h2>{say("app.conflict")}</h2>
          <p>{say("app.conflict-how")}</p>
          <div class="row">
            <button onClick={() => void settle("theirs")}>{say("app.take-theirs")}</button>
            {c.merged ? (
              <button class="main" onClick={() => void settle("both")}>
                {say("app.take-both")}
              </button>
            ) : null}
            <button onClick={() => void settle("mine")}>{say("app.take-mine")}</button>
          </div>
        </section>
      ) : null}
    </>
  );
}

/** English is what is not said in other languages: the places of the office. */
function English({ children }: { children: JSX.Element }): JSX.Element {
  return (
    <div class="stack" lang="en">
      {children}
    </div>
  );
}

function Part({ place }: { place: Place }): JSX.Element {
  useEffect(() => {
    if (place.part !== "job") document.title = "Stallwright";
  }, [place.part]);
  switch (place.part) {
    case "job":
      return <JobPart key={place.job} place={place} />;
    case "shop":
      return <English><Shop place={place} /></English>;
    case "people":
      return <English><People /></English>;
    case "sign-in":
      return <SignIn />;
    case "me":
      return <Me />;
    default:
      return <Jobs session={session()} />;
  }
}

function JobPart({ place }: { place: Place }): JSX.Element {
  const [work, setWork] = useState<Work | null | undefined>();
  const turn = useTurn();
  useEffect(() => {
    let stop: (() => void) | undefined;
    let gone = false;
    void (async () => {
      let w = await Work.open(place.job);
      if (!w) {
        await take(place.job).catch(() => undefined);
        w = await Work.open(place.job);
      }
      if (gone) return;
      setWork(w ?? null);
      stop = w?.watch(turn);
    })();
    const unfollow = follow(place.job);
    const untaken = onTaken((id) => {
      if (id === place.job) setWork((w) => (w && void w.reload(), w));
    });
    return () => {
      gone = true;
      stop?.();
      unfollow();
      untaken();
    };
  }, [place.job]);
  useEffect(() => {
    document.title = work ? `${work.job.title} · Stallwright` : "Stallwright";
  }, [work?.job.title]);
  const spoken = /^language:\s*["']?([\w-]+)/m.exec(work?.job.text ?? "")?.[1];
  useEffect(() => ofJob(spoken), [spoken]);
  if (work === undefined) return <p>{say("app.opening")} <progress aria-label={say("app.opening")} /></p>;
  if (work === null) return <p class="told error">{say("app.not-held")}</p>;
  const room = roomOf(place);
  if ((room === "desk" || room === "history") && !office()) return <Elsewhere place={place} />;
  switch (room) {
    case "barn":
      return <Barn work={work} at={place.at} />;
    case "saw":
      return <SawRoom work={work} at={place.at} />;
    case "day":
      return <Day work={work} at={place.at} />;
    case "papers":
      return <English><Papers work={work} /></English>;
    case "history":
      return <English><History work={work} /></English>;
    default:
      return <English><Desk work={work} at={place.at} /></English>;
  }
}

/** Elsewhere leads whoever does not plan to the places they work at. */
function Elsewhere({ place }: { place: Place }): JSX.Element {
  return (
    <section class="sheet">
      <h1>{say("app.for-office")}</h1>
      <div class="row">
        {rooms(place).map((r) => (
          <a key={r.at} class="button huge" href={r.address}>
            {r.name}
          </a>
        ))}
      </div>
    </section>
  );
}
