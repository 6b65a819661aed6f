// A photo attached to a place. It is made smaller here, so that it goes out over
// a weak signal, and loses what the camera wrote into it.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { api } from "./api";
import { keep, newID, now } from "./keep";
import { say } from "./language";
import { nudge, onSignal } from "./sync";

const longest = 1600;

async function smaller(file: File): Promise<Blob> {
  const image = await createImageBitmap(file);
  const by = Math.min(1, longest / Math.max(image.width, image.height));
  const canvas = new OffscreenCanvas(Math.max(1, Math.round(image.width * by)), Math.max(1, Math.round(image.height * by)));
  canvas.getContext("2d")!.drawImage(image, 0, 0, canvas.width, canvas.height);
  image.close();
  return canvas.convertToBlob({ type: "image/jpeg", quality: 0.82 });
}

interface ButtonProps {
  job: string;
  /** the bay, post, step or piece that it shows */
  place: string;
  by: string;
  /** is told of the photo's id once it is kept on the device */
  kept?: (id: string) => void;
}

export function PhotoButton({ job, place, by, kept }: ButtonProps): JSX.Element {
  const [told, setTold] = useState("");
  const add = async (e: Event): Promise<void> => {
    const input = e.currentTarget as HTMLInputElement;
    const file = input.files?.[0];
    if (!file) return;
    try {
      const id = newID();
      await keep.putPhoto({ job, id, place, note: "", taken: now(), by, data: await smaller(file), sent: 0 });
      setTold(say("app.photo-kept"));
      kept?.(id);
      nudge();
    } catch {
      setTold(say("app.no-picture", { file: file.name }));
    }
    input.value = "";
  };
  return (
    <>
      <label class="button">
        <Camera />
        {say("app.photo")}
        <input class="unseen" type="file" accept="image/*" capture="environment" onChange={(e) => void add(e)} />
      </label>
      <span class="quiet" role="status">
        {told}
      </span>
    </>
  );
}

function Camera(): JSX.Element {
  return (
    <svg class="sign" viewBox="0 0 24 24" aria-hidden="true">
      <path d="M3 8h4l2-3h6l2 3h4v11H3z" />
      <circle cx="12" cy="13" r="3.6" />
    </svg>
  );
}

interface Shown {
  id: string;
  url: string;
  waits: boolean;
}

/** Photos are those of a place, or those named: the ones taken here at once, those
 * of others where there is signal. */
export function Photos({ job, place, ids }: { job: string; place: string; ids?: string[] }): JSX.Element | null {
  const [shown, setShown] = useState<Shown[]>([]);
  const wanted = ids?.join(" ");
  useEffect(() => {
    let made: string[] = [];
    let gone = false;
    const load = async (): Promise<void> => {
      const all = await keep.photos(job);
      const right = (p: { id: string; place: string }): boolean => (wanted === undefined ? p.place === place : wanted.split(" ").includes(p.id));
      const mine = all.filter(right);
      const held = new Set(mine.map((p) => p.id));
      const theirs = (JSON.parse((await keep.get("photos of " + job)) || "[]") as { id: string; place: string }[]).filter((p) => right(p) && !held.has(p.id));
      if (gone) return;
      made.forEach((u) => URL.revokeObjectURL(u));
      made = mine.map((p) => URL.createObjectURL(p.data));
      setShown([...mine.map((p, i) => ({ id: p.id, url: made[i]!, waits: !p.sent })), ...theirs.map((p) => ({ id: p.id, url: api.photo(job, p.id), waits: false }))]);
    };
    void load();
    const stop = onSignal(() => void load());
    return () => {
      gone = true;
      stop();
      made.forEach((u) => URL.revokeObjectURL(u));
    };
  }, [job, place, wanted]);
  if (!shown.length) return null;
  return (
    <ul class="photos" aria-label={say("app.photos")}>
      {shown.map((s) => (
        <li key={s.id}>
          <a href={s.url} target="_blank" rel="noopener">
            <img src={s.url} alt={say("app.photo-of", { place })} loading="lazy" />
          </a>
          {s.waits ? <span class="quiet">{say("app.photo-waits")}</span> : null}
        </li>
      ))}
    </ul>
  );
}
