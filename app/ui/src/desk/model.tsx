// The finished job in space, and the build step by step. The library that draws it
// is only fetched when it is looked at.
import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { ask } from "../engine";
import type { Work } from "../work";
import type { Stage } from "./stage";

interface Props {
  work: Work;
  at: string;
  choose: (name: string) => void;
  /** Labels of what stands already; everything where left out. */
  upTo?: string[];
  /** Labels of what this step adds. */
  adds?: string[];
}

export function Model({ work, at, choose, upTo, adds }: Props): JSX.Element {
  const host = useRef<HTMLDivElement>(null);
  const stage = useRef<Stage | undefined>(undefined);
  const [told, setTold] = useState("Building the model…");
  useEffect(() => {
    let gone = false;
    void (async () => {
      try {
        const [{ Stage }, glb] = await Promise.all([import("./stage"), ask<string>("model", work.question())]);
        if (gone || !host.current) return;
        stage.current?.end();
        stage.current = new Stage(host.current, choose);
        await stage.current.load(Uint8Array.from(atob(glb), (c) => c.charCodeAt(0)).buffer);
        stage.current.show(upTo, adds);
        setTold("");
      } catch (err) {
        setTold(err instanceof Error ? err.message : String(err));
      }
    })();
    return () => {
      gone = true;
      stage.current?.end();
      stage.current = undefined;
    };
  }, [work.job.text, work.records.length]);
  useEffect(() => stage.current?.show(upTo, adds), [upTo?.length, adds?.join()]);
  useEffect(() => stage.current?.mark(at), [at]);
  return (
    <section class="sheet no-print" aria-label="The job in space">
      {told ? <p role="status">{told}</p> : null}
      <div class="space" ref={host} />
      <p class="hint">Drag to turn, pinch or wheel to come nearer, two fingers to move. Everything shown here is on the drawings too.</p>
    </section>
  );
}
