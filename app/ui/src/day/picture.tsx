// The picture of a step, as it is printed: drawn here, with or without signal.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { ask } from "../engine";
import { say } from "../language";
import type { Work } from "../work";

export function Picture({ work, step, title, language }: { work: Work; step: string; title: string; language: string }): JSX.Element | null {
  const [url, setURL] = useState<string | undefined>();
  const [big, setBig] = useState(false);
  const [busy, setBusy] = useState(true);
  useEffect(() => {
    let gone = false;
    let made = "";
    setBusy(true);
    ask<string>("picture", { ...work.question(), about: step, language }).then(
      (svg) => {
        if (gone) return;
        made = svg ? URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" })) : "";
        setURL(made);
        setBusy(false);
      },
      () => !gone && setBusy(false),
    );
    return () => {
      gone = true;
      if (made) URL.revokeObjectURL(made);
    };
  }, [step, language, work.job.text, work.entries().length]);
  if (busy) {
    return (
      <div class="picture wait" role="status">
        <progress aria-label={say("app.drawing")} />
      </div>
    );
  }
  if (!url) return null;
  return (
    <button class={`picture ${big ? "big" : ""}`} aria-pressed={big} aria-label={`${title}: ${say(big ? "app.smaller" : "app.larger")}`} onClick={() => setBig(!big)}>
      <img src={url} alt="" />
    </button>
  );
}
