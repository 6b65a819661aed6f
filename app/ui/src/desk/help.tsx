// The keys of the drawing, on a sheet that a question mark brings.
import type { JSX } from "preact";
import { useEffect, useRef } from "preact/hooks";

const groups: { name: string; keys: [string, string][] }[] = [
  {
    name: "On the drawing",
    keys: [
      ["← → ↑ ↓", "to the next bay, room, post or size in that direction"],
      ["Page Down, Page Up", "go through rooms, posts and sizes in place of bays"],
      ["Enter", "open it: its choices, or a size to type"],
      ["Esc", "choose nothing"],
      ["Shift and an arrow", "move the post or the wall by one step of the grid"],
      ["+ − 0", "nearer, farther, all of it"],
    ],
  },
  {
    name: "On a bay",
    keys: [
      ["b", "boards"],
      ["g", "grille"],
      ["w", "window"],
      ["f", "feeder"],
      ["o", "open"],
      ["d", "turn its door or its feeder to the other side"],
    ],
  },
  {
    name: "On a room",
    keys: [
      ["s", "split it"],
      ["j", "join it with the next"],
      ["a", "another one like it beside it"],
      ["c", "copy its row"],
      ["Delete", "take it away"],
    ],
  },
  {
    name: "Everywhere",
    keys: [
      ["Ctrl Z, Ctrl Y", "undo, redo"],
      ["?", "this sheet"],
    ],
  },
];

export function Help({ close }: { close: () => void }): JSX.Element {
  const sheet = useRef<HTMLDialogElement>(null);
  useEffect(() => sheet.current?.showModal(), []);
  return (
    <dialog ref={sheet} class="help" aria-labelledby="keys-name" onClose={close} onClick={(e) => e.target === sheet.current && sheet.current?.close()}>
      <div class="row between">
        <h2 id="keys-name">Keys</h2>
        <button onClick={() => sheet.current?.close()}>Close</button>
      </div>
      <div class="help-groups">
        {groups.map((g) => (
          <section key={g.name}>
            <h3>{g.name}</h3>
            <dl class="keys-list">
              {g.keys.map(([k, does]) => (
                <div key={k}>
                  <dt>
                    <kbd>{k}</kbd>
                  </dt>
                  <dd>{does}</dd>
                </div>
              ))}
            </dl>
          </section>
        ))}
      </div>
    </dialog>
  );
}
