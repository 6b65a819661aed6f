// What is chosen, and what can be done with it.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { Bay, Document, KitChoice } from "../made/answers";
import { useTurn } from "../turn";
import type { Work } from "../work";
import { addRoom, copyRow, dropRoom, findRoom, join, listStructures, movePost, offsetOf, set, setDoor, setFill, setRoom, split, value } from "./edits";

interface Props {
  work: Work;
  document: Document;
  kit: KitChoice | undefined;
  at: string;
  choose: (name: string) => void;
}

export function Chosen(p: Props): JSX.Element {
  const { document: d, at } = p;
  const bay = d.bays?.find((b) => b.name === at);
  if (bay) return <BayPanel {...p} bay={bay} />;
  if (at.startsWith("room ")) return <RoomPanel {...p} room={at.slice(5)} />;
  if (d.posts?.some((v) => v.name === at)) return <PostPanel {...p} />;
  return <JobPanel {...p} />;
}

/** write takes an edit if it applies, and says so if not. */
function useWrite(work: Work): [write: (text: string | undefined) => void, told: string] {
  const [told, setTold] = useState("");
  return [
    (text) => {
      if (text === undefined) setTold("That cannot be done here. The text view can do everything.");
      else {
        setTold("");
        void work.write(text);
      }
    },
    told,
  ];
}

function BayPanel({ work, document: d, kit, bay, choose }: Props & { bay: Bay }): JSX.Element {
  const [write, told] = useWrite(work);
  const text = work.job.text;
  const fills = ["boards", "grille", "window", "feeder", "open"];
  const door = bay.fill === "door" || !!bay.door;
  return (
    <section class="sheet" aria-label={`Bay ${bay.name}`}>
      <h2>{bay.name}</h2>
      <p>
        {bay.clear} clear, {bay.state}
        {bay.board ? <>; boards {bay.board}</> : null}
      </p>
      {door ? (
        <>
          <label>
            Door
            <select value={bay.door?.item ?? ""} onChange={(e) => write(setDoor(text, bay.name, { door: e.currentTarget.value }))}>
              {(kit?.doors ?? []).map((v) => (
                <option key={v.id} value={v.id}>
                  {v.name}
                </option>
              ))}
            </select>
          </label>
          <div class="row" role="group" aria-label="Slides to">
            <button onClick={() => write(setDoor(text, bay.name, { slides: "left" }))}>Slides left</button>
            <button onClick={() => write(setDoor(text, bay.name, { slides: "right" }))}>Slides right</button>
          </div>
        </>
      ) : (
        <>
          <div class="row" role="group" aria-label="Fill">
            {fills.map((f) => (
              <button key={f} aria-pressed={bay.fill === f} onClick={() => write(setFill(text, bay.name, f === "feeder" ? { fill: f, hand: "left" } : f))}>
                {f}
              </button>
            ))}
          </div>
          {bay.fill === "feeder" ? (
            <div class="row" role="group" aria-label="Feeder at">
              <button onClick={() => write(setFill(text, bay.name, { fill: "feeder", hand: "left" }))}>Feeder at the left</button>
              <button onClick={() => write(setFill(text, bay.name, { fill: "feeder", hand: "right" }))}>Feeder at the right</button>
            </div>
          ) : null}
          {bay.fill === "grille" || bay.fill === "window" ? (
            <label>
              {bay.fill === "grille" ? "Grille" : "Window"}
              <select onChange={(e) => write(setFill(text, bay.name, { fill: bay.fill, [bay.fill]: e.currentTarget.value }))}>
                <option value="">as the kit has it</option>
                {((bay.fill === "grille" ? kit?.grilles : kit?.windows) ?? []).map((v) => (
                  <option key={v.id} value={v.id}>
                    {v.name}
                  </option>
                ))}
              </select>
            </label>
          ) : null}
        </>
      )}
      <Neighbours bay={bay} document={d} choose={choose} />
      {told ? <p class="told warning">{told}</p> : null}
    </section>
  );
}

/** Neighbours go from bay to bay in the order of the walls. */
function Neighbours({ bay, document: d, choose }: { bay: Bay; document: Document; choose: (n: string) => void }): JSX.Element {
  const all = (d.bays ?? []).map((b) => b.name);
  const i = all.indexOf(bay.name);
  return (
    <div class="row">
      <button disabled={i <= 0} onClick={() => choose(all[i - 1]!)}>
        ← Bay before
      </button>
      <button disabled={i >= all.length - 1} onClick={() => choose(all[i + 1]!)}>
        Next bay →
      </button>
    </div>
  );
}

function RoomPanel({ work, document: d, room, choose }: Props & { room: string }): JSX.Element {
  const [write, told] = useWrite(work);
  const text = work.job.text;
  const r = d.rooms?.find((v) => v.name === room);
  const where = findRoom(text, d, room);
  if (!r) return <section class="sheet"><p>The plan holds no room {room} any more.</p></section>;
  const kinds = ["stall", "foaling", "tack", "feed", "wash", "passage", "open"];
  const next = where ? (d.rooms ?? [])[(d.rooms ?? []).indexOf(r) + 1] : undefined;
  const exact = (nm: number): string => (d.job.units === "metric" ? `${nm / 1e6} mm` : `${nm / 25.4e6}"`);
  return (
    <section class="sheet" aria-label={`Room ${room}`}>
      <h2>Room {room}</h2>
      <p>
        {r.width} by {r.depth}
      </p>
      {where ? (
        <>
          <label>
            Kind
            <select value={r.kind} onChange={(e) => write(setRoom(text, where, "kind", e.currentTarget.value))}>
              {kinds.map((k) => (
                <option key={k}>{k}</option>
              ))}
            </select>
          </label>
          {where.structure.kind === "barn-row" ? (
            <Dimension work={work} label="Post spacing, centre to centre" path={[...where.structure.path, "spacing"]} />
          ) : (
            <Typed label="Width, centre to centre" value={value(text, [...where.list, where.index, "width"]) ?? ""} hint={r.width} done={(v) => write(setRoom(text, where, "width", v))} />
          )}
          <Dimension work={work} label="Depth, centre to centre" path={[...where.structure.path, "depth"]} />
          <div class="row">
            <button onClick={() => write(addRoom(text, where))}>Add a room like it</button>
            <button onClick={() => write(split(text, where, exact(Math.round(r.width_nm / 2))))}>Split</button>
            <button disabled={!next} onClick={() => write(next ? join(text, where, exact(r.width_nm + next.width_nm)) : undefined)}>
              Join with the next
            </button>
            <button
              class="bad"
              onClick={() => {
                write(dropRoom(text, where));
                choose("");
              }}
            >
              Take away
            </button>
          </div>
        </>
      ) : (
        <p class="hint">This room is drawn post by post; change it in the text.</p>
      )}
      {told ? <p class="told warning">{told}</p> : null}
    </section>
  );
}

function PostPanel({ work, document: d, at }: Props): JSX.Element {
  const [write, told] = useWrite(work);
  const p = d.posts!.find((v) => v.name === at)!;
  const had = offsetOf(work.job.text, p.structure, at);
  return (
    <section class="sheet" aria-label={`Post ${at}`}>
      <h2>Post {at}</h2>
      <p>
        {p.kind}, at {p.x} along and {p.y} across
      </p>
      {p.kind === "timber" ? (
        <>
          <p class="hint">How far it stands from its place in the grid. Plus is toward the right-hand end, and away from the back line.</p>
          <Typed label="Along" value={had.along} hint={'3/4", -1/2", 12 mm'} done={(v) => write(movePost(work.job.text, p.structure, at, v, had.across))} />
          <Typed label="Across" value={had.across} hint={'3/4", -1/2", 12 mm'} done={(v) => write(movePost(work.job.text, p.structure, at, had.along, v))} />
        </>
      ) : null}
      {told ? <p class="told warning">{told}</p> : null}
    </section>
  );
}

function JobPanel({ work, document: d }: Props): JSX.Element {
  const [write, told] = useWrite(work);
  const turn = useTurn();
  const text = work.job.text;
  const all = listStructures(text);
  const free = (): string => {
    const names = new Set(all.map((s) => s.name));
    return [..."ABCDEFGHJKLMNPQRSTUVWXYZ"].find((n) => !names.has(n)) ?? "A" + all.length;
  };
  return (
    <section class="sheet" aria-label="Job">
      <h2>The job</h2>
      <Typed label="Name" value={value(text, ["job"]) ?? ""} done={(v) => write(set(text, ["job"], v))} />
      <Typed label="Farm" value={value(text, ["farm", "name"]) ?? ""} done={(v) => write(set(text, ["farm", "name"], v))} />
      <label>
        Papers show
        <select value={d.job.units} onChange={(e) => write(set(text, ["units"], e.currentTarget.value))}>
          <option value="feet">feet and inches</option>
          <option value="metric">millimetres</option>
        </select>
      </label>
      {all.map((s) => (
        <fieldset key={s.name} class="stack">
          <legend>
            {s.name}: {s.kind}
          </legend>
          {(s.kind === "pen" ? ["across", "section", "height"] : s.kind === "free-form" ? ["height"] : s.kind === "barn-row" ? ["spacing", "depth", "aisle", "height"] : ["width", "depth", "aisle", "height"]).map((key) => (
            <Dimension key={key} work={work} label={key} path={[...s.path, key]} />
          ))}
          <button
            onClick={() => {
              write(copyRow(text, s.name, free()));
              turn();
            }}
          >
            Copy {s.name}
          </button>
        </fieldset>
      ))}
      {told ? <p class="told warning">{told}</p> : null}
    </section>
  );
}

/** Dimension is a length of the text, typed in place. */
function Dimension({ work, label, path }: { work: Work; label: string; path: (string | number)[] }): JSX.Element | null {
  const v = value(work.job.text, path);
  if (v === undefined && label !== "height" && label !== "aisle") return null;
  return (
    <Typed
      label={label}
      value={v ?? ""}
      done={(to) => {
        const text = set(work.job.text, path, to);
        if (text !== undefined) void work.write(text);
      }}
    />
  );
}

function Typed({ label, value: had, hint, done }: { label: string; value: string; hint?: string; done: (v: string) => void }): JSX.Element {
  const [typed, setTyped] = useState<string | undefined>();
  const end = (): void => {
    if (typed !== undefined && typed.trim() !== had) done(typed.trim());
    setTyped(undefined);
  };
  return (
    <label>
      {label}
      <input value={typed ?? had} placeholder={hint} onInput={(e) => setTyped(e.currentTarget.value)} onBlur={end} onKeyDown={(e) => e.key === "Enter" && end()} />
    </label>
  );
}
