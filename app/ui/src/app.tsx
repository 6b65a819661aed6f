import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { api, type Session } from "./api";
import { Barn } from "./barn/barn";
import { Day } from "./day/day";
import { Desk } from "./desk/desk";
import { History } from "./history";
import { Jobs } from "./jobs";
import { Papers } from "./papers";
import { People } from "./people";
import { address, usePlace, type Place } from "./places";
import { SawRoom } from "./saw/saw";
import { Shop } from "./shop";
import { SignIn } from "./signin";
import { follow, nudge, onSignal, onTaken, settle, signal, take } from "./sync";
import { useTurn } from "./turn";
import { Work } from "./work";

const rooms: [room: string, name: string][] = [
  ["desk", "Desk"],
  ["barn", "Measure"],
  ["saw", "Saw"],
  ["day", "Steps"],
  ["papers", "Papers"],
  ["history", "History"],
];

export function App(): JSX.Element {
  const place = usePlace();
  const [session, setSession] = useState<Session | undefined>();
  const turn = useTurn();
  useEffect(() => onSignal(turn), []);
  useEffect(() => {
    nudge();
    api.session().then(setSession, () => undefined);
  }, [place.part]);
  return (
    <>
      <a class="skip" href="#content" onClick={(e) => { e.preventDefault(); document.getElementById("content")?.focus(); }}>
        To the content
      </a>
      <Top place={place} session={session} />
      <main id="content" tabIndex={-1}>
        <Told />
        <Part place={place} session={session} />
      </main>
    </>
  );
}

function Top({ place, session }: { place: Place; session: Session | undefined }): JSX.Element {
  return (
    <header class="top">
      <a class="brand" href="#/">
        <img src="/icon.svg" alt="" />
        Stallwright
      </a>
      <nav aria-label="Places">
        {place.part === "job" ? (
          rooms.map(([room, name]) => (
            <a key={room} href={address(place.job, room)} {...(room === place.room ? { "aria-current": "page" as const } : {})}>
              {name}
            </a>
          ))
        ) : (
          <>
            <a href="#/" {...(place.part === "jobs" ? { "aria-current": "page" as const } : {})}>Jobs</a>
            <a href="#/shop" {...(place.part === "shop" ? { "aria-current": "page" as const } : {})}>Shop</a>
            {session?.accounts && session.role === "owner" ? (
              <a href="#/people" {...(place.part === "people" ? { "aria-current": "page" as const } : {})}>People</a>
            ) : null}
          </>
        )}
      </nav>
      <p class="state" role="status">
        {signal.state === "away" ? "No signal: all is kept on this device. " : ""}
        {signal.waiting ? `${signal.waiting} waiting to be sent.` : signal.state === "here" ? "All sent." : ""}
      </p>
    </header>
  );
}

/** Told shows what the server refused, and a text that two people changed. */
function Told(): JSX.Element | null {
  const c = signal.conflict;
  return (
    <>
      {signal.refused.map((r) => (
        <p key={r} class="told error" role="alert">
          {r}
        </p>
      ))}
      {c ? (
        <section class="told warning stack" role="alert">
          <h2>Somebody else changed this job meanwhile</h2>
          <p>Nothing was overwritten. Choose whose text goes on; the other stays in the history.</p>
          <div class="row">
            <button onClick={() => void settle(c.text)}>Go on with theirs</button>
            {c.merged ? (
              <button class="main" onClick={() => void settle(c.merged!)}>
                Take both edits
              </button>
            ) : null}
            <button onClick={() => void mine(c.job)}>Go on with mine</button>
          </div>
        </section>
      ) : null}
    </>
  );
}

async function mine(job: string): Promise<void> {
  const w = await Work.open(job);
  if (w) await settle(w.job.text);
}

function Part({ place, session }: { place: Place; session: Session | undefined }): JSX.Element {
  switch (place.part) {
    case "job":
      return <JobPart key={place.job} place={place} />;
    case "shop":
      return <Shop place={place} />;
    case "people":
      return <People />;
    case "sign-in":
      return <SignIn />;
    default:
      return <Jobs session={session} />;
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
  }, [work]);
  if (work === undefined) return <p>Opening the job…</p>;
  if (work === null) return <p class="told error">This device does not hold the job, and the server was not reached. Open it once where there is signal.</p>;
  switch (place.room) {
    case "barn":
      return <Barn work={work} at={place.at} />;
    case "saw":
      return <SawRoom work={work} at={place.at} />;
    case "day":
      return <Day work={work} at={place.at} />;
    case "papers":
      return <Papers work={work} />;
    case "history":
      return <History work={work} />;
    default:
      return <Desk work={work} at={place.at} />;
  }
}
