// Signing off: somebody by name says that the work is done and was looked over. It
// is a tick like a step's, so that it travels, and is taken back, like one.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { keep } from "./keep";
import { say } from "./language";
import type { Work } from "./work";

/** signed is the step that stands for the whole. */
const signed = "sign-off";

interface Props {
  work: Work;
  /** steps that are not done, and problems that are open */
  left: number;
  problems: number;
}

export function SignOff({ work, left, problems }: Props): JSX.Element {
  const [name, setName] = useState("");
  useEffect(() => {
    void keep.get("me").then(setName);
  }, []);
  const gone = new Set(work.records.map((r) => r.record.void?.record));
  const ticks = work.records.filter((r) => r.record.step?.step === signed && !gone.has(r.id)).map((r) => r.record);
  const last = ticks.reduce((a, b) => (!a || Date.parse(b.at) >= Date.parse(a.at) ? b : a), ticks[0]);
  const tick = async (done: boolean): Promise<void> => {
    const by = name.trim().slice(0, 40);
    await work.add({ ...(await work.stamp("step")), ...(by ? { by } : {}), step: { step: signed, done } });
  };
  if (last?.step?.done) {
    return (
      <section class="sheet told good">
        <p class="huge-text" role="status" dir="auto">
          {say("app.signed-off", { name: last.by ?? "", date: new Date(last.at).toLocaleDateString(document.documentElement.lang) })}
        </p>
        <button onClick={() => void tick(false)}>{say("app.take-back")}</button>
      </section>
    );
  }
  return (
    <form
      class="sheet"
      onSubmit={(e) => {
        e.preventDefault();
        if (name.trim()) void tick(true);
      }}
    >
      <h2>{say("app.sign-off")}</h2>
      <p>{say("app.sign-off-means")}</p>
      {left ? <p class="told warning">{say("app.steps-left", { n: left })}</p> : null}
      {problems ? <p class="told warning">{say("app.problems-left", { n: problems })}</p> : null}
      <label>
        {say("app.signed-by")}
        <input value={name} maxLength={40} autocomplete="name" required onInput={(e) => setName(e.currentTarget.value)} />
      </label>
      <button class="main huge">{say("app.sign-off")}</button>
    </form>
  );
}
