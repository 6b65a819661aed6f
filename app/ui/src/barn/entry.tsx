// A big entry for what the tape shows. A reading has parts (feet, inches, the
// fraction); each is set by one touch on keys wide enough for gloves, and the next
// part comes up by itself. Who has a keyboard types it.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { say } from "../language";
import { INCH, MM, typedFeet, type Units } from "../lengths";
import { Tape } from "./tape";

interface Props {
  units: Units;
  /** small lengths with a sign: a lean */
  small: boolean;
  /** what it should come to: its feet are set already */
  start: number | undefined;
  /** more keys beside those that set the reading */
  children?: JSX.Element | null;
  /** what is said of the reading before it is kept */
  told?: JSX.Element | null;
  busy: boolean;
  /** the button that takes the reading, by what it is */
  take: (reading: string) => string;
  done: (typed: string) => void;
}

type Part = "sign" | "feet" | "inches" | "fraction";

interface Reading {
  minus: boolean;
  feet: string;
  inches: number | undefined;
  sixteenths: number | undefined;
}

const fractions = ["0", "1/16", "1/8", "3/16", "1/4", "5/16", "3/8", "7/16", "1/2", "9/16", "5/8", "11/16", "3/4", "13/16", "7/8", "15/16"];

export function Entry(p: Props): JSX.Element {
  return p.units === "metric" ? <Metric {...p} /> : <Feet {...p} />;
}

/** written is the reading as it is typed into the notebook. */
function written(r: Reading, small: boolean): string {
  const inches = r.inches ?? 0;
  const sixteenths = r.sixteenths ?? 0;
  if (!small) return typedFeet({ feet: Number(r.feet || 0), inches, sixteenths });
  const f = sixteenths ? fractions[sixteenths] : "";
  const sign = r.minus && (inches || sixteenths) ? "-" : "";
  return `${sign}${[inches || !f ? String(inches) : "", f].filter(Boolean).join(" ")} in`;
}

function Feet({ small, start, children, told, busy, take, done }: Props): JSX.Element {
  const [r, setR] = useState<Reading>({ minus: false, feet: start === undefined ? "" : String(Math.max(0, Math.trunc(start / (12 * INCH)))), inches: undefined, sixteenths: undefined });
  const [part, setPart] = useState<Part>(small || start !== undefined ? "inches" : "feet");
  const [typed, setTyped] = useState("");
  const nm = ((Number(r.feet || 0) * 12 + (r.inches ?? 0)) * 16 + (r.sixteenths ?? 0)) * (INCH / 16);
  const empty = r.inches === undefined && r.sixteenths === undefined;
  const text = typed.trim() || (empty ? "–" : written(r, small));
  const set = (to: Partial<Reading>, next?: Part): void => {
    setTyped("");
    setR({ ...r, ...to });
    if (next) setPart(next);
  };
  return (
    <div class="entry">
      <div class="parts" role="group" aria-label={text}>
        {small ? (
          <button class="part" aria-label={say("app.change-sign")} aria-pressed={r.minus} onClick={() => set({ minus: !r.minus })}>
            {r.minus ? "−" : "+"}
          </button>
        ) : (
          <PartButton name={say("app.feet")} shown={(r.feet || "–") + "'"} on={part === "feet"} go={() => setPart("feet")} />
        )}
        <PartButton name={say("app.inches")} shown={(r.inches ?? "–") + (small && !r.sixteenths ? '"' : "")} on={part === "inches"} go={() => setPart("inches")} />
        <PartButton name={say("app.fraction")} shown={(r.sixteenths === undefined ? "–" : r.sixteenths ? fractions[r.sixteenths]! : "0") + '"'} on={part === "fraction"} go={() => setPart("fraction")} />
      </div>
      {small ? null : <Tape nm={nm} units="feet" />}
      {part === "feet" ? (
        <Digits add={(d) => set({ feet: (r.feet + d).replace(/^0+(?=\d)/, "").slice(0, 3) })} back={() => set({ feet: r.feet.slice(0, -1) })} last={{ shown: "→", name: say("app.inches"), go: () => setPart("inches") }} />
      ) : part === "inches" ? (
        <div class="keys four" role="group" aria-label={say("app.inches")}>
          {Array.from({ length: 12 }, (_, i) => (
            <button key={i} aria-pressed={r.inches === i} onClick={() => set({ inches: i }, "fraction")}>
              {i}
            </button>
          ))}
        </div>
      ) : (
        <div class="keys four" role="group" aria-label={say("app.fraction")}>
          {fractions.map((f, i) => (
            <button key={f} class={"mark" + (i % 16 === 0 ? 1 : i % 8 === 0 ? 2 : i % 4 === 0 ? 4 : i % 2 === 0 ? 8 : 16)} aria-pressed={r.sixteenths === i} onClick={() => set({ sixteenths: i })}>
              {f}
            </button>
          ))}
        </div>
      )}
      <Typed value={typed} set={setTyped} done={() => !busy && typed.trim() && done(typed.trim())} />
      {children}
      <Foot told={told ?? null} busy={busy || (!typed.trim() && empty)} text={text} take={take} done={done} />
    </div>
  );
}

function Metric({ small, start, children, told, busy, take, done }: Props): JSX.Element {
  const [mm, setMM] = useState("");
  const [typed, setTyped] = useState("");
  const text = typed.trim() || `${mm || "–"} mm`;
  const set = (to: string): void => {
    setTyped("");
    setMM(to);
  };
  return (
    <div class="entry">
      <div class="parts">
        <output class="part on" aria-label={say("app.millimetres")}>{text}</output>
      </div>
      {small ? null : <Tape nm={mm ? Number(mm) * MM : (start ?? 0)} units="metric" />}
      <Digits
        add={(d) => set((mm + d).replace(/^(-?)0+(?=\d)/, "$1").slice(0, 6))}
        back={() => set(mm.slice(0, -1))}
        last={small ? { shown: "±", name: say("app.change-sign"), go: () => set(mm.startsWith("-") ? mm.slice(1) : "-" + mm) } : { shown: "00", name: "00", go: () => set((mm + "00").slice(0, 6)) }}
      />
      <Typed value={typed} set={setTyped} done={() => !busy && typed.trim() && done(typed.trim())} />
      {children}
      <Foot told={told ?? null} busy={busy || (!typed.trim() && !/\d/.test(mm))} text={text} take={take} done={done} />
    </div>
  );
}

function PartButton({ name, shown, on, go }: { name: string; shown: string; on: boolean; go: () => void }): JSX.Element {
  return (
    <button class="part" aria-pressed={on} onClick={go}>
      <span class="shown">{shown}</span>
      <small>{name}</small>
    </button>
  );
}

function Digits({ add, back, last }: { add: (d: string) => void; back: () => void; last: { shown: string; name: string; go: () => void } }): JSX.Element {
  return (
    <div class="keys three" role="group" aria-label={say("app.digits")}>
      {["1", "2", "3", "4", "5", "6", "7", "8", "9"].map((d) => (
        <button key={d} onClick={() => add(d)}>
          {d}
        </button>
      ))}
      <button aria-label={say("app.erase")} onClick={back}>
        ⌫
      </button>
      <button onClick={() => add("0")}>0</button>
      <button aria-label={last.name} onClick={last.go}>
        {last.shown}
      </button>
    </div>
  );
}

/** Typed is for who has a keyboard: anything that the notebook reads. */
function Typed({ value, set, done }: { value: string; set: (v: string) => void; done: () => void }): JSX.Element {
  return (
    <label class="typed">
      {say("app.type-reading")}
      <input value={value} autocomplete="off" onInput={(e) => set(e.currentTarget.value)} onKeyDown={(e) => e.key === "Enter" && done()} />
    </label>
  );
}

/** Foot stays under the thumb. */
function Foot({ told, busy, text, take, done }: { told: JSX.Element | null; busy: boolean; text: string; take: (t: string) => string; done: (t: string) => void }): JSX.Element {
  return (
    <div class="foot">
      {told}
      <button class="main huge" disabled={busy} onClick={() => done(text)}>
        {take(text)}
      </button>
    </div>
  );
}
