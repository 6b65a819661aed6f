// A piece of tape round the reading, as it looks on the real one: who holds the
// phone beside the tape sees at once whether both show the same.
import type { JSX } from "preact";
import { INCH, MM, type Units } from "../lengths";

/** half is how much of the tape is shown to each side. */
const half = { feet: INCH * 1.25, metric: 32 * MM };

export function Tape({ nm, units }: { nm: number; units: Units }): JSX.Element {
  const metric = units === "metric";
  const each = metric ? MM : INCH / 16;
  const side = half[units];
  const at = (n: number): number => ((n - nm + side) / (2 * side)) * 1000;
  const first = Math.ceil((nm - side) / each);
  const last = Math.floor((nm + side) / each);
  const marks: JSX.Element[] = [];
  for (let i = first; i <= last; i++) {
    const x = at(i * each);
    const tall = metric ? (i % 10 === 0 ? 62 : i % 5 === 0 ? 44 : 26) : i % 16 === 0 ? 74 : i % 8 === 0 ? 56 : i % 4 === 0 ? 44 : i % 2 === 0 ? 32 : 20;
    marks.push(<line key={i} x1={x} x2={x} y1="0" y2={tall} />);
    if (i >= 0 && i % (metric ? 10 : 16) === 0) {
      const whole = i / (metric ? 10 : 16);
      marks.push(
        <text key={"t" + i} x={x + 22} y="106" class={!metric && whole % 12 === 0 ? "foot" : ""}>
          {metric ? whole * 10 : whole}
        </text>,
      );
    }
  }
  return (
    <svg class="tape" viewBox="0 0 1000 112" aria-hidden="true">
      <rect width="1000" height="112" />
      {marks}
      <path class="here" d="M500 78 L482 112 L518 112 Z" />
      <line class="here" x1="500" x2="500" y1="0" y2="84" />
    </svg>
  );
}
