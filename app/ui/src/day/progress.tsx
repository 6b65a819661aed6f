// How far the work is, on the plan: what stands, what is begun, where the step is.
import type { JSX } from "preact";
import { useMemo } from "preact/hooks";
import { around, bayLines, spots } from "../desk/scene";
import { say } from "../language";
import type { Document, Step } from "../made/answers";
import { address } from "../places";

type State = "done" | "begun" | "open";

/** touched are the bays that a step works at. */
function touched(d: Document, s: Step): Set<string> {
  const runs = new Map((d.runs ?? []).map((r) => [r.name, r.bays ?? []]));
  const out = new Set<string>();
  for (const name of [s.place, ...(s.adds ?? []).map((a) => a.split("/")[0]!)]) {
    for (const b of runs.get(name) ?? [name]) out.add(b);
  }
  return out;
}

export function Progress({ document: d, steps, now, job }: { document: Document; steps: Step[]; now: Step | undefined; job: string }): JSX.Element {
  const places = useMemo(() => spots(d), [d]);
  const lines = useMemo(() => bayLines(d, places), [d, places]);
  const box = useMemo(() => around(places), [places]);
  const bySteps = useMemo(() => {
    const m = new Map<string, Step[]>();
    for (const s of steps) for (const b of touched(d, s)) m.set(b, [...(m.get(b) ?? []), s]);
    return m;
  }, [d, steps]);
  const here = useMemo(() => (now ? touched(d, now) : new Set<string>()), [d, now]);
  const state = (bay: string): State => {
    const of = bySteps.get(bay) ?? [];
    const done = of.filter((s) => s.done).length;
    return of.length > 0 && done === of.length ? "done" : done ? "begun" : "open";
  };
  const count = { done: 0, begun: 0, open: 0 };
  for (const l of lines) if (bySteps.has(l.bay.name)) count[state(l.bay.name)]++;
  const u = box.width / 360;
  return (
    <figure class="sheet progress-plan">
      <figcaption>{say("app.bays-stand", { done: count.done, begun: count.begun, open: count.open })}</figcaption>
      <svg viewBox={`${box.left} ${box.top} ${box.width} ${box.height}`} role="img" aria-label={say("app.bays-stand", { done: count.done, begun: count.begun, open: count.open })}>
        {lines.map((l) => {
          const next = (bySteps.get(l.bay.name) ?? []).find((s) => !s.done) ?? bySteps.get(l.bay.name)?.[0];
          return (
            <g key={l.bay.name} class={`${state(l.bay.name)} ${here.has(l.bay.name) ? "here" : ""}`} onClick={() => next && (location.hash = address(job, "day", next.id))}>
              <line x1={l.from.x} y1={l.from.y} x2={l.to.x} y2={l.to.y} stroke="transparent" stroke-width={22 * u} />
              <line class="wall" x1={l.from.x} y1={l.from.y} x2={l.to.x} y2={l.to.y} stroke-width={(here.has(l.bay.name) ? 6 : 3.5) * u} {...(state(l.bay.name) === "open" ? { "stroke-dasharray": `${2 * u} ${4 * u}` } : state(l.bay.name) === "begun" ? { "stroke-dasharray": `${8 * u} ${3 * u}` } : {})} />
            </g>
          );
        })}
        {(d.posts ?? []).map((p) => {
          const s = places.get(p.name);
          return s ? <circle key={p.name} class="stand" cx={s.x} cy={s.y} r={2.4 * u} /> : null;
        })}
      </svg>
    </figure>
  );
}
