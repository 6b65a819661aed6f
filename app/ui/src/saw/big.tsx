// A length to be read from the far end of the board: the fraction stands over its
// line, as tapes and drawings have it, so that the whole is larger.
import type { JSX } from "preact";

export function Big({ length }: { length: string }): JSX.Element {
  const m = /^(.*?)(?:\s|^)(\d+)\/(\d+)("?)$/.exec(length);
  const long = (m ? m[1]! + "00" : length).length > 8 ? " long" : "";
  if (!m) return <span class={"mark" + long}>{length}</span>;
  return (
    <span class={"mark" + long}>
      <span class="unseen">{length}</span>
      <span aria-hidden="true">
        {m[1]}
        <span class="fraction">
          <span>{m[2]}</span>
          <span>{m[3]}</span>
        </span>
        {m[4]}
      </span>
    </span>
  );
}
