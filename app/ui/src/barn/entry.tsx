// A big entry for what the tape shows. Feet, inches and sixteenths are set with
// keys wide enough for gloves; metric is a number of millimetres.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { INCH, MM, typedFeet, type TapeParts, type Units } from "../lengths";

interface Props {
  units: Units;
  /** small lengths with a sign: a lean */
  small: boolean;
  /** what it should come to: the feet of it are set already */
  start: number | undefined;
  busy: boolean;
  /** an answer that was doubted: typed again it is taken */
  again: string;
  done: (typed: string) => void;
}

export function Entry(p: Props): JSX.Element {
  return p.units === "metric" ? <Metric {...p} /> : <Feet {...p} />;
}

const sixteenths = ["0", "1/16", "1/8", "3/16", "1/4", "5/16", "3/8", "7/16", "1/2", "9/16", "5/8", "11/16", "3/4", "13/16", "7/8", "15/16"];

function Feet({ small, start, busy, again, done }: Props): JSX.Element {
  const [v, setV] = useState<TapeParts>({ feet: small ? 0 : Math.trunc((start ?? 0) / (12 * INCH)), inches: 0, sixteenths: 0 });
  const [minus, setMinus] = useState(false);
  const text = (minus ? "-" : "") + (small ? `${v.inches}${v.sixteenths ? " " + sixteenths[v.sixteenths] : ""} in` : typedFeet(v));
  const lean = small && minus && v.inches === 0 && v.sixteenths ? `-${sixteenths[v.sixteenths]} in` : text;
  return (
    <div class="entry">
      <output class="reading">{small ? lean : text}</output>
      {small ? (
        <div class="row" role="group" aria-label="Direction">
          <button aria-pressed={!minus} onClick={() => setMinus(false)}>+</button>
          <button aria-pressed={minus} onClick={() => setMinus(true)}>−</button>
        </div>
      ) : (
        <fieldset class="keys">
          <legend>Feet</legend>
          <Step label="feet" value={v.feet} least={0} most={299} set={(feet) => setV({ ...v, feet })} />
        </fieldset>
      )}
      <fieldset class="keys twelve">
        <legend>Inches</legend>
        {Array.from({ length: 12 }, (_, i) => (
          <button key={i} aria-pressed={v.inches === i} onClick={() => setV({ ...v, inches: i })}>
            {i}
          </button>
        ))}
      </fieldset>
      <fieldset class="keys sixteen">
        <legend>And</legend>
        {sixteenths.map((s, i) => (
          <button key={s} aria-pressed={v.sixteenths === i} onClick={() => setV({ ...v, sixteenths: i })}>
            {s}
          </button>
        ))}
      </fieldset>
      <Take busy={busy} text={small ? lean : text} again={again} done={done} />
    </div>
  );
}

function Metric({ small, start, busy, again, done }: Props): JSX.Element {
  const [mm, setMM] = useState("");
  const key = (k: string): void => setMM(k === "C" ? "" : k === "±" ? (mm.startsWith("-") ? mm.slice(1) : "-" + mm) : (mm + k).slice(0, 6));
  const keys = ["1", "2", "3", "4", "5", "6", "7", "8", "9", small ? "±" : "00", "0", "C"];
  return (
    <div class="entry">
      <output class="reading">{mm || "…"} mm</output>
      {start ? <p class="hint">about {Math.round(start / MM)} mm</p> : null}
      <div class="keys three" role="group" aria-label="Digits">
        {keys.map((k) => (
          <button key={k} aria-label={k === "C" ? "Clear" : k === "±" ? "Change the sign" : k} onClick={() => key(k)}>
            {k}
          </button>
        ))}
      </div>
      <Take busy={busy || mm === "" || mm === "-"} text={`${mm} mm`} again={again} done={done} />
    </div>
  );
}

function Step({ label, value, least, most, set }: { label: string; value: number; least: number; most: number; set: (n: number) => void }): JSX.Element {
  return (
    <>
      <button aria-label={`One of ${label} less`} disabled={value <= least} onClick={() => set(value - 1)}>−</button>
      <output class="count">{value}</output>
      <button aria-label={`One of ${label} more`} disabled={value >= most} onClick={() => set(value + 1)}>+</button>
    </>
  );
}

function Take({ busy, text, again, done }: { busy: boolean; text: string; again: string; done: (t: string) => void }): JSX.Element {
  return (
    <button class="main huge" disabled={busy} onClick={() => done(text)}>
      {again === text ? `Yes, ${text}: keep it` : `Keep ${text}`}
    </button>
  );
}
