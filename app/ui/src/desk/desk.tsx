// The desk's door: what it takes to work on a drawing is fetched when somebody comes
// in, so that a phone that only measures does not wait for it.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { Work } from "../work";

type Room = (p: { work: Work; at: string }) => JSX.Element;

let room: Room | undefined;

export function Desk(p: { work: Work; at: string }): JSX.Element {
  const [, came] = useState(false);
  const [told, setTold] = useState("");
  useEffect(() => {
    if (!room) {
      import("./board").then(
        (m) => {
          room = m.Board;
          came(true);
        },
        () => setTold("The desk could not be fetched. Open it once where there is signal."),
      );
    }
  }, []);
  const Open = room;
  if (Open) return <Open {...p} />;
  return told ? <p class="told error">{told}</p> : <p role="status">Opening the desk…</p>;
}
