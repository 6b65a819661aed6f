// What is chosen, and what can be done with it.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { ask } from "../engine";
import type { Units } from "../lengths";
import type { Bay, Choices, Document, KitChoice } from "../made/answers";
import { PhotoButton } from "../photo";
import type { Work } from "../work";
import { addStructure, copyRow, dropStructure, fillOf, findRoom, freeName, frontOf, listStructures, movePost, offsetOf, set, setBay, setFill, setFillKey, setFront, setRoom, value } from "./edits";
import { fills, flip, isDoor } from "./fills";
import { parsed } from "./grid";
import { addRoomAt, cannotSplit, dropRoomAt, joinRoom, nextRoom, splitRoom } from "./rooms";

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
  if (bay) return <BayPanel key={at} {...p} bay={bay} />;
  if (at.startsWith("room ")) return <RoomPanel key={at} {...p} room={at.slice(5)} />;
  if (d.posts?.some((v) => v.name === at)) return <PostPanel key={at} {...p} />;
  return <JobPanel {...p} />;
}

/** useWrite takes an edit if it applies, and says so if not. */
function useWrite(work: Work): [write: (text: string | undefined) => void, told: JSX.Element | null] {
  const [told, setTold] = useState("");
  return [
    (text) => {
      if (text === undefined) setTold("That cannot be done here. The text view can do everything.");
      else {
        setTold("");
        void work.write(text);
      }
    },
    told ? (
      <p class="told warning" role="status">
        {told}
      </p>
    ) : null,
  ];
}

function BayPanel(p: Props & { bay: Bay }): JSX.Element {
  const { work, document: d, bay, choose } = p;
  return (
    <section class="sheet" aria-label={`Bay ${bay.name}`}>
      <div class="row between">
        <h2>{bay.name}</h2>
        <button onClick={() => choose("")}>The job</button>
      </div>
      <p>
        <b>{bay.clear}</b> clear, {bay.state}
        {bay.board ? (
          <>
            ; boards <b>{bay.board}</b>
          </>
        ) : null}
      </p>
      {isDoor(bay) ? <DoorPanel {...p} /> : <FillPanel {...p} />}
      <div class="row">
        <PhotoButton job={work.job.id} place={bay.name} by="" />
      </div>
      <Neighbours bay={bay} document={d} choose={choose} />
    </section>
  );
}

function FillPanel({ work, document: d, kit, bay }: Props & { bay: Bay }): JSX.Element {
  const [write, told] = useWrite(work);
  const text = work.job.text;
  const own: Record<string, { name: string; list: { id: string; name: string }[] | null | undefined }> = {
    grille: { name: "Grille", list: kit?.grilles },
    window: { name: "Window", list: kit?.windows },
    feeder: { name: "Feeder", list: kit?.feeders },
  };
  const part = own[bay.fill];
  const put = (key: string, v: string): void => write(setFillKey(text, bay.name, bay.fill, key, v));
  return (
    <>
      <div class="row choices-of-fill" role="group" aria-label="Fill">
        {fills.map((f) => (
          <button key={f.kind} aria-pressed={bay.fill === f.kind} onClick={() => write(setFill(text, bay.name, f.kind === "feeder" ? { fill: f.kind, hand: "left" } : f.kind))}>
            {f.kind} <kbd aria-hidden="true">{f.key}</kbd>
          </button>
        ))}
      </div>
      {part && (part.list ?? []).length ? (
        <label>
          {part.name}
          <select value={fillOf(text, bay.name, bay.fill)} onChange={(e) => put(bay.fill, e.currentTarget.value)}>
            <option value="">as the kit has it</option>
            {(part.list ?? []).map((v) => (
              <option key={v.id} value={v.id}>
                {v.name}
              </option>
            ))}
          </select>
        </label>
      ) : null}
      {bay.fill === "feeder" ? (
        <div class="row" role="group" aria-label="The feeder stands at">
          {["left", "right"].map((hand) => (
            <button key={hand} aria-pressed={bay.feeder?.hand === hand} onClick={() => put("hand", hand)}>
              At the {hand}
            </button>
          ))}
        </div>
      ) : null}
      {bay.fill === "window" ? (
        <>
          <Typed label="From the left" value={fillOf(text, bay.name, "from")} hint="centred" units={d.job.units} done={(v) => put("from", v)} />
          <Counted label="Courses under it" value={fillOf(text, bay.name, "sill")} done={(v) => put("sill", v)} />
        </>
      ) : null}
      {bay.fill === "grille" || bay.fill === "feeder" ? (
        <div class="two">
          <Counted label="Courses below" value={fillOf(text, bay.name, "below")} done={(v) => put("below", v)} />
          <Counted label="Courses above" value={fillOf(text, bay.name, "above")} done={(v) => put("above", v)} />
        </div>
      ) : null}
      {told}
    </>
  );
}

function DoorPanel({ work, document: d, kit, bay }: Props & { bay: Bay }): JSX.Element {
  const [write, told] = useWrite(work);
  const text = work.job.text;
  const at = bay.room !== undefined ? findRoom(text, d, bay.room) : undefined;
  const slides = bay.door?.kind === "sliding";
  const parks = bay.door?.track?.parks;
  const hinge = at ? frontOf(text, at, "hinge") || "left" : "";
  const place = at ? frontOf(text, at, "at") || "centre" : "";
  return (
    <>
      <label>
        Door
        <select value={bay.door?.item ?? ""} onChange={(e) => write(setBay(text, bay.name, { door: e.currentTarget.value }))}>
          {(kit?.doors ?? []).map((v) => (
            <option key={v.id} value={v.id}>
              {v.name}
            </option>
          ))}
        </select>
      </label>
      {slides ? (
        <div class="row" role="group" aria-label="The leaf parks on the">
          {["left", "right"].map((hand) => (
            <button key={hand} aria-pressed={parks === hand} onClick={() => write(setBay(text, bay.name, { slides: hand }))}>
              Slides {hand}
            </button>
          ))}
        </div>
      ) : at ? (
        <div class="row" role="group" aria-label="The leaf is hung on the">
          {["left", "right"].map((hand) => (
            <button key={hand} aria-pressed={hinge === hand} onClick={() => write(setFront(text, at, "hinge", hand))}>
              Hung {hand}
            </button>
          ))}
        </div>
      ) : null}
      {at ? (
        <>
          <div class="row" role="group" aria-label="The doorway stands">
            {["left", "centre", "right"].map((v) => (
              <button key={v} aria-pressed={place === v} onClick={() => write(setFront(text, at, "at", v))}>
                {v === "centre" ? "middle" : v}
              </button>
            ))}
          </div>
          <Typed label="Or from the left post to its middle" value={["left", "centre", "right"].includes(place) ? "" : place} units={d.job.units} done={(v) => write(setFront(text, at, "at", v || "centre"))} />
        </>
      ) : null}
      <div class="row">
        <button onClick={() => write(flip(text, d, bay))}>
          Turn it to the other side <kbd aria-hidden="true">d</kbd>
        </button>
      </div>
      {told}
    </>
  );
}

/** Neighbours go from bay to bay in the order of the walls. */
function Neighbours({ bay, document: d, choose }: { bay: Bay; document: Document; choose: (n: string) => void }): JSX.Element {
  const all = (d.bays ?? []).map((b) => b.name);
  const i = all.indexOf(bay.name);
  return (
    <div class="row">
      <button disabled={i <= 0} onClick={() => choose(all[i - 1]!)}>← Bay before</button>
      <button disabled={i >= all.length - 1} onClick={() => choose(all[i + 1]!)}>Next bay →</button>
      {bay.room !== undefined ? <button onClick={() => choose("room " + bay.room)}>Room {bay.room}</button> : null}
    </div>
  );
}

function RoomPanel({ work, document: d, room, choose }: Props & { room: string }): JSX.Element {
  const [write, told] = useWrite(work);
  const text = work.job.text;
  const r = d.rooms?.find((v) => v.name === room);
  const where = findRoom(text, d, room);
  if (!r) {
    return (
      <section class="sheet">
        <p>The plan holds no room {room} any more.</p>
        <button onClick={() => choose("")}>The job</button>
      </section>
    );
  }
  const kinds = ["stall", "foaling", "tack", "feed", "wash", "passage", "open"];
  const stuck = cannotSplit(text, d, room);
  const next = nextRoom(text, d, room);
  return (
    <section class="sheet" aria-label={`Room ${room}`}>
      <div class="row between">
        <h2>Room {room}</h2>
        <button onClick={() => choose("")}>The job</button>
      </div>
      <p>
        {r.width} by {r.depth}
      </p>
      {where ? (
        <>
          {where.both ? <p class="hint">The second row is like the first: what is changed here changes in both.</p> : null}
          <label>
            Kind
            <select value={r.kind} onChange={(e) => write(setRoom(text, where, "kind", e.currentTarget.value))}>
              {kinds.map((k) => (
                <option key={k}>{k}</option>
              ))}
            </select>
          </label>
          <Typed label="Name" value={value(text, [...where.list, where.index, "name"]) ?? ""} hint={room} done={(v) => write(setRoom(text, where, "name", v))} />
          {where.structure.kind === "barn-row" ? (
            <Dimension work={work} label="Post spacing, centre to centre" path={[...where.structure.path, "spacing"]} units={d.job.units} />
          ) : (
            <Typed label="Width, centre to centre" value={value(text, [...where.list, where.index, "width"]) ?? ""} hint={r.width} units={d.job.units} done={(v) => write(setRoom(text, where, "width", v))} />
          )}
          <Dimension work={work} label="Depth, centre to centre" path={[...where.structure.path, "depth"]} units={d.job.units} />
          <div class="row">
            <button onClick={() => write(addRoomAt(text, d, room))}>
              Add one like it <kbd aria-hidden="true">a</kbd>
            </button>
            <button disabled={stuck !== ""} title={stuck} onClick={() => write(splitRoom(text, d, room))}>
              Split <kbd aria-hidden="true">s</kbd>
            </button>
            <button disabled={next === undefined} onClick={() => write(joinRoom(text, d, room))}>
              Join with {next ?? "the next"} <kbd aria-hidden="true">j</kbd>
            </button>
            <button onClick={() => write(copyRow(text, where.structure.name, freeName(text)))}>
              Copy row {where.structure.name} <kbd aria-hidden="true">c</kbd>
            </button>
            <button
              class="bad"
              onClick={() => {
                write(dropRoomAt(text, d, room));
                choose("");
              }}
            >
              Take away
            </button>
          </div>
          {stuck ? <p class="hint">It cannot be split. {stuck}</p> : null}
        </>
      ) : (
        <p class="hint">This room is drawn post by post; change it in the text.</p>
      )}
      <Inside document={d} room={r.runs ?? []} choose={choose} />
      {told}
    </section>
  );
}

/** Inside are the bays around a room. */
function Inside({ document: d, room, choose }: { document: Document; room: string[]; choose: (n: string) => void }): JSX.Element | null {
  const bays = (d.bays ?? []).filter((b) => room.includes(b.run));
  if (!bays.length) return null;
  return (
    <details>
      <summary>Its walls</summary>
      <div class="row">
        {bays.map((b) => (
          <button key={b.name} onClick={() => choose(b.name)}>
            {b.name}: {b.fill}
          </button>
        ))}
      </div>
    </details>
  );
}

function PostPanel({ work, document: d, at, choose }: Props): JSX.Element {
  const [write, told] = useWrite(work);
  const p = d.posts!.find((v) => v.name === at)!;
  const had = offsetOf(work.job.text, p.structure, at);
  return (
    <section class="sheet" aria-label={`Post ${at}`}>
      <div class="row between">
        <h2>Post {at}</h2>
        <button onClick={() => choose("")}>The job</button>
      </div>
      <p>
        {p.kind}, at {p.x} along and {p.y} across
      </p>
      {p.kind === "timber" ? (
        <>
          <p class="hint">How far it stands from its place in the grid. Plus is toward the right-hand end, and away from the back line. Or drag it, or Shift and an arrow.</p>
          <Typed label="Along" value={had.along} hint={'3/4", -1/2", 12 mm'} units={d.job.units} done={(v) => write(movePost(work.job.text, p.structure, at, v, had.across))} />
          <Typed label="Across" value={had.across} hint={'3/4", -1/2", 12 mm'} units={d.job.units} done={(v) => write(movePost(work.job.text, p.structure, at, had.along, v))} />
          {had.along || had.across ? <button onClick={() => write(movePost(work.job.text, p.structure, at, "", ""))}>Back to its place in the grid</button> : null}
        </>
      ) : (
        <p class="hint">It stands where the sizes put it.</p>
      )}
      {told}
    </section>
  );
}

const keysOf: Record<string, string[]> = {
  pen: ["across", "section", "height"],
  "free-form": ["height"],
  "barn-row": ["spacing", "depth", "aisle", "height"],
};

function JobPanel({ work, document: d }: Props): JSX.Element {
  const [write, told] = useWrite(work);
  const text = work.job.text;
  const all = listStructures(text);
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
          <div class="two">
            {(keysOf[s.kind] ?? ["width", "depth", "aisle", "height"]).map((key) => (
              <Dimension key={key} work={work} label={key} path={[...s.path, key]} units={d.job.units} />
            ))}
          </div>
          <div class="row">
            <button onClick={() => write(copyRow(text, s.name, freeName(text)))}>Copy {s.name}</button>
            {all.length > 1 ? (
              <button class="bad" onClick={() => write(dropStructure(text, s.name))}>
                Take {s.name} away
              </button>
            ) : null}
          </div>
        </fieldset>
      ))}
      <Another work={work} write={write} />
      {told}
    </section>
  );
}

/** Another puts one structure more into the job. */
function Another({ work, write }: { work: Work; write: (text: string | undefined) => void }): JSX.Element {
  const [choices, setChoices] = useState<Choices | undefined>();
  const [open, setOpen] = useState(false);
  useEffect(() => {
    if (open) ask<Choices>("choices", { job: "" }).then(setChoices, () => undefined);
  }, [open]);
  const names: Record<string, string> = { "barn-row": "Stalls in a standing barn", "free-row": "A row by itself", "free-barn": "A row that bears a roof", pen: "A round pen" };
  return (
    <details onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>Add a structure</summary>
      <div class="row">
        {(choices?.starters ?? []).map((s) => (
          <button key={s} onClick={() => void ask<string>("starter", { job: "", about: s }).then((from) => write(addStructure(work.job.text, from, freeName(work.job.text))))}>
            {names[s] ?? s}
          </button>
        ))}
      </div>
    </details>
  );
}

/** Dimension is a length of the text, typed in place. */
function Dimension({ work, label, path, units }: { work: Work; label: string; path: (string | number)[]; units: string }): JSX.Element | null {
  const v = value(work.job.text, path);
  if (v === undefined && label !== "height" && label !== "aisle") return null;
  return (
    <Typed
      label={label}
      value={v ?? ""}
      units={units}
      done={(to) => {
        const text = set(work.job.text, path, to);
        if (text !== undefined) void work.write(text);
      }}
    />
  );
}

/** Typed is a text, or with units a length, taken when it is left or Enter is hit. */
function Typed({ label, value: had, hint, units, done }: { label: string; value: string; hint?: string; units?: string; done: (v: string) => void }): JSX.Element {
  const [typed, setTyped] = useState<string | undefined>();
  const wrong = typed !== undefined && units !== undefined && typed.trim() !== "" && typed.trim() !== had && parsed(typed, units as Units) === undefined;
  const end = (): void => {
    if (wrong) return;
    if (typed !== undefined && typed.trim() !== had) done(bare(typed.trim(), units));
    setTyped(undefined);
  };
  return (
    <label>
      {label}
      <input value={typed ?? had} placeholder={hint} aria-invalid={wrong} onInput={(e) => setTyped(e.currentTarget.value)} onBlur={end} onKeyDown={(e) => (e.key === "Enter" ? end() : e.key === "Escape" ? setTyped(undefined) : undefined)} />
      {wrong ? <small class="bad-text">{units === "metric" ? "A length, as 3600 mm" : `A length, as 12' 6 1/2"`}</small> : null}
    </label>
  );
}

/** bare gives a number alone the unit it is meant in. */
function bare(typed: string, units: string | undefined): string {
  if (units === undefined || !/^-?\d+(\.\d+)?( \d+\/\d+)?$|^-?\d+\/\d+$/.test(typed)) return typed;
  return typed + (units === "metric" ? " mm" : '"');
}

/** Counted is how many courses; empty for what the kit says. */
function Counted({ label, value: had, done }: { label: string; value: string; done: (v: string) => void }): JSX.Element {
  return (
    <label>
      {label}
      <input type="number" min={1} max={60} value={had} placeholder="the kit's" onChange={(e) => done(e.currentTarget.value && Number(e.currentTarget.value) >= 1 ? String(Math.trunc(Number(e.currentTarget.value))) : "")} />
    </label>
  );
}
