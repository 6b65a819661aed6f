// A photo attached to a place. It is made smaller here, so that it goes out over
// a weak signal, and loses what the camera wrote into it.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { keep, newID, now } from "./keep";
import { nudge } from "./sync";

const longest = 1600;

async function smaller(file: File): Promise<Blob> {
  const image = await createImageBitmap(file);
  const by = Math.min(1, longest / Math.max(image.width, image.height));
  const canvas = new OffscreenCanvas(Math.max(1, Math.round(image.width * by)), Math.max(1, Math.round(image.height * by)));
  canvas.getContext("2d")!.drawImage(image, 0, 0, canvas.width, canvas.height);
  image.close();
  return canvas.convertToBlob({ type: "image/jpeg", quality: 0.82 });
}

export function PhotoButton({ job, place, by }: { job: string; place: string; by: string }): JSX.Element {
  const [told, setTold] = useState("");
  const add = async (e: Event): Promise<void> => {
    const input = e.currentTarget as HTMLInputElement;
    const file = input.files?.[0];
    if (!file) return;
    try {
      await keep.putPhoto({ job, id: newID(), place, note: "", taken: now(), by, data: await smaller(file), sent: 0 });
      setTold("Photo kept");
      nudge();
    } catch {
      setTold(`${file.name} is no picture that can be read`);
    }
    input.value = "";
  };
  return (
    <>
      <label class="button">
        Photo
        <input class="skip" type="file" accept="image/*" capture="environment" onChange={(e) => void add(e)} />
      </label>
      <span role="status">{told}</span>
    </>
  );
}
