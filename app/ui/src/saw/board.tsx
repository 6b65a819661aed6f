// The board of a ticket as it lies on the saw: pieces, offcut and waste to scale.
import type { JSX } from "preact";
import { say } from "../language";
import type { SawTicket as Ticket } from "../made/answers";

export function Board({ ticket: t }: { ticket: Ticket }): JSX.Element {
  const x = (nm: number): number => (nm / t.length_nm) * 1000;
  const pieces = (t.marks ?? []).map((m) => ({ from: (t.first_nm ?? 0) + m.at_nm - m.length_nm, to: (t.first_nm ?? 0) + m.at_nm }));
  return (
    <svg class="board no-print" viewBox="0 0 1000 70" preserveAspectRatio="none" role="img" aria-label={say("app.board-picture")}>
      <rect class="waste" x="0" y="8" width="1000" height="54" />
      {t.keep_nm ? <rect class="rest" x={x(t.length_nm - t.keep_nm)} y="8" width={x(t.keep_nm)} height="54" /> : null}
      {pieces.map((p, i) => (
        <rect key={i} class="piece" x={x(p.from)} y="8" width={Math.max(2, x(p.to - p.from))} height="54" />
      ))}
      {pieces.map((p, i) => (
        <line key={"l" + i} class="cutline" x1={x(p.to)} x2={x(p.to)} y1="0" y2="70" />
      ))}
    </svg>
  );
}
