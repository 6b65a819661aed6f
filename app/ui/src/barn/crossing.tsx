// Something of the building that crosses a bay: which bay, what it is, and where,
// one thing at a time.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { say } from "../language";
import type { Units } from "../lengths";
import { Entry } from "./entry";

const kinds: [kind: string, name: () => string][] = [
  ["brace", () => say("app.crosses-brace")],
  ["girt", () => say("app.crosses-girt")],
  ["curb", () => say("app.crosses-curb")],
  ["pipe", () => say("app.crosses-pipe")],
  ["track", () => say("app.crosses-track")],
  ["other", () => say("app.crosses-other")],
];

const lengths = [() => say("app.crosses-left"), () => say("app.crosses-width"), () => say("app.crosses-above"), () => say("app.crosses-height")];

interface Props {
  bays: string[];
  units: Units;
  busy: boolean;
  /** is given the line that the notebook reads */
  done: (typed: string) => void;
  back: () => void;
}

export function Crossing({ bays, units, busy, done, back }: Props): JSX.Element {
  const [bay, setBay] = useState("");
  const [kind, setKind] = useState("");
  const [read, setRead] = useState<string[]>([]);
  if (!bay) return <Choice ask={say("app.crosses-where")} from={bays.map((b) => [b, b])} take={setBay} back={back} />;
  if (!kind) return <Choice ask={say("app.crosses-what")} from={kinds.map(([k, name]) => [k, name()])} take={setKind} back={() => setBay("")} />;
  const take = (typed: string): void => {
    const all = [...read, typed];
    setRead(all);
    if (all.length === lengths.length) done(`cross ${bay} ${kind} ${all.join(", ")}`);
  };
  const now = lengths[read.length];
  if (!now) return <progress aria-label={say("app.loading")} />;
  return (
    <>
      <div role="status"><h3>{now()}</h3></div>
      <Entry key={read.length} units={units} small={false} start={undefined} busy={busy} take={(length) => say("app.take-this", { length })} done={take}>
        <button onClick={() => (read.length ? setRead(read.slice(0, -1)) : setKind(""))}>{say("app.back")}</button>
      </Entry>
    </>
  );
}

function Choice({ ask, from, take, back }: { ask: string; from: [value: string, shown: string][]; take: (v: string) => void; back: () => void }): JSX.Element {
  return (
    <>
      <div role="status"><h3>{ask}</h3></div>
      <div class="choices">
        {from.map(([value, shown]) => (
          <button key={value} onClick={() => take(value)}>
            {shown}
          </button>
        ))}
      </div>
      <button onClick={back}>{say("app.back")}</button>
    </>
  );
}
