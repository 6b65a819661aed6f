// What the plan has to tell, each with its ways out.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { Document, KitChoice } from "../made/answers";
import { address } from "../places";
import type { Work } from "../work";
import { ways } from "./ways";

const names: Record<string, string> = { error: "Cannot be built so", warning: "Look at it", note: "To know" };

export function Findings({ work, document: d, kit, choose }: { work: Work; document: Document; kit: KitChoice | undefined; choose: (name: string) => void }): JSX.Element {
  const [notes, setNotes] = useState(false);
  const all = d.findings ?? [];
  const told = all.map((f, i) => ({ f, keys: work.planned?.ways?.[i] ?? [] })).filter(({ f }) => notes || f.severity !== "note");
  const quiet = all.length - all.filter((f) => f.severity !== "note").length;
  const known = new Set([...(d.bays ?? []).map((b) => b.name), ...(d.posts ?? []).map((p) => p.name)]);
  const rooms = new Set((d.rooms ?? []).map((r) => r.name));
  const runs = new Map((d.runs ?? []).map((r) => [r.name, r.bays?.[0]]));
  const target = (place: string): string => (known.has(place) ? place : rooms.has(place) ? "room " + place : (runs.get(place) ?? ""));
  return (
    <section class="sheet" aria-label="Findings">
      <h2>{told.length ? `To look at: ${all.length - quiet}` : "Nothing stands in the way"}</h2>
      <ul class="list findings">
        {told.map(({ f, keys }, i) => {
          const to = target(f.place);
          return (
            <li key={f.code + f.place + i} class={`told ${f.severity}`}>
              <p>
                <b>{names[f.severity] ?? f.severity}: </b>
                {to ? (
                  <button class="plain" onClick={() => choose(to)}>
                    {f.place}
                  </button>
                ) : (
                  f.place
                )}
                , {f.message}
              </p>
              <ul class="ways">
                {ways(work.job.text, d, kit, f, keys).map((w) => (
                  <li key={w.says}>
                    {w.take ? (
                      <button
                        onClick={() => {
                          const text = w.take!(work.job.text);
                          if (text !== undefined) void work.write(text);
                          if (to) choose(to);
                        }}
                      >
                        {capital(w.says.replace(/: bays: \{.*$/, "").replace(/ \(bays: .*$/, ""))}
                      </button>
                    ) : w.measure ? (
                      <a class="button" href={address(work.job.id, "barn")}>
                        {capital(w.says)}
                      </a>
                    ) : (
                      <span>{w.says}</span>
                    )}
                  </li>
                ))}
              </ul>
            </li>
          );
        })}
      </ul>
      {quiet ? (
        <button aria-pressed={notes} onClick={() => setNotes(!notes)}>
          {notes ? "Without what is only to know" : `And ${quiet} to know`}
        </button>
      ) : null}
    </section>
  );
}

const capital = (s: string): string => s.charAt(0).toUpperCase() + s.slice(1);
