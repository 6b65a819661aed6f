// The job as text, for whoever would rather write.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { Work } from "../work";

export function TextView({ work }: { work: Work }): JSX.Element {
  const [text, setText] = useState(work.job.text);
  useEffect(() => setText(work.job.text), [work.job.text]);
  return (
    <section class="stack">
      <label>
        The job document
        <textarea class="code" spellcheck={false} rows={30} value={text} onInput={(e) => setText(e.currentTarget.value)} onBlur={() => void work.write(text)} />
      </label>
      <div class="row">
        <button class="main" onClick={() => void work.write(text)}>
          Plan it
        </button>
        <button onClick={() => setText(work.job.text)}>Back to what is kept</button>
      </div>
    </section>
  );
}
