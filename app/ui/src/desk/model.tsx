// The job in space, finished or as it stands after a step. The library that draws it
// is only fetched when it is looked at.
import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { ask } from "../engine";
import { say } from "../language";
import type { Model as Answer } from "../made/answers";
import type { Work } from "../work";
import type { Stage } from "./stage";

interface Props {
  work: Work;
  /** A bay or a post to point out. */
  at: string;
  choose: (name: string) => void;
  /** The step, from 0, after which it is shown; finished where left out. */
  step?: number | undefined;
  /** ready is told of the steps once they are known. */
  ready?: (titles: string[]) => void;
  language?: string;
  /** Looks at what the step adds. */
  near?: boolean | undefined;
}

export function Model({ work, at, choose, step, ready, language, near }: Props): JSX.Element {
  const host = useRef<HTMLDivElement>(null);
  const stage = useRef<Stage | undefined>(undefined);
  const shown = useRef<number | undefined>(step);
  const [told, setTold] = useState(() => say("app.model-made"));
  const [busy, setBusy] = useState(true);
  const [counts, setCounts] = useState("");
  shown.current = step;
  const dress = (): void => {
    stage.current?.show(shown.current);
    if (near) stage.current?.near();
    const n = stage.current?.counts;
    if (n) setCounts(shown.current === undefined ? say("app.model-stand", { stand: n.stand, all: n.all }) : say("app.model-new", { stand: n.stand, all: n.all, new: n.added }));
  };
  useEffect(() => {
    let gone = false;
    setBusy(true);
    void (async () => {
      try {
        const [{ Stage }, made] = await Promise.all([import("./stage"), ask<Answer>("model", { ...work.question(), ...(language ? { language } : {}) })]);
        if (gone || !host.current) return;
        stage.current?.end();
        stage.current = new Stage(host.current, choose);
        await stage.current.load(Uint8Array.from(atob(made.glb ?? ""), (c) => c.charCodeAt(0)).buffer, made.comes ?? {});
        if (gone) return;
        stage.current.mark(at);
        dress();
        ready?.(made.steps ?? []);
        setTold("");
      } catch (err) {
        if (!gone) setTold(err instanceof Error ? err.message : String(err));
      }
      if (!gone) setBusy(false);
    })();
    return () => {
      gone = true;
      stage.current?.end();
      stage.current = undefined;
    };
  }, [work.job.text, work.shelf, work.entries().length, language]);
  useEffect(dress, [step, near]);
  useEffect(() => stage.current?.mark(at), [at]);
  return (
    <section class="sheet no-print" aria-label={say("app.in-space")}>
      {told ? (
        <p role="status">
          {told} {busy ? <progress /> : null}
        </p>
      ) : null}
      <div class="space" ref={host} />
      <p class="hint">
        <span data-counts>{counts}</span>
      </p>
      <p class="hint">{say("app.model-hint")}</p>
    </section>
  );
}

/** Build is the model with the steps of the work beside it. */
export function Build({ work, at, choose }: { work: Work; at: string; choose: (name: string) => void }): JSX.Element {
  const [titles, setTitles] = useState<string[]>([]);
  const [step, setStep] = useState<number | undefined>();
  const [runs, setRuns] = useState(false);
  const [near, setNear] = useState(false);
  const last = titles.length - 1;
  useEffect(() => {
    if (!runs) return;
    if (step !== undefined && step >= last) {
      setRuns(false);
      return;
    }
    const next = setTimeout(() => setStep(step === undefined ? 0 : step + 1), 900);
    return () => clearTimeout(next);
  }, [runs, step, last]);
  const go = (n: number): void => {
    setRuns(false);
    setStep(n > last ? undefined : Math.max(n, 0));
  };
  return (
    <div class="stack">
      {titles.length ? (
        <section class="sheet no-print" aria-label="Steps of the work">
          <label>
            {step === undefined ? "Finished" : `After step ${step + 1} of ${titles.length}: ${titles[step]}`}
            <input type="range" min={0} max={titles.length} value={step ?? titles.length} aria-valuetext={step === undefined ? "finished" : `step ${step + 1}: ${titles[step]}`} onInput={(e) => go(Number(e.currentTarget.value))} />
          </label>
          <div class="row">
            <button disabled={step === 0} onClick={() => go((step ?? titles.length) - 1)}>← Step before</button>
            <button disabled={step === undefined} onClick={() => go((step ?? last) + 1)}>Next step →</button>
            <button
              aria-pressed={runs}
              onClick={() => {
                if (!runs && step === undefined) setStep(0);
                setRuns(!runs);
              }}
            >
              {runs ? "Hold" : "Build it"}
            </button>
            <button disabled={step === undefined} onClick={() => go(titles.length)}>Finished</button>
            <button aria-pressed={near} onClick={() => setNear(!near)}>Near what is new</button>
          </div>
        </section>
      ) : null}
      <Model work={work} at={at} choose={choose} step={step} near={near && step !== undefined} ready={setTitles} />
    </div>
  );
}
