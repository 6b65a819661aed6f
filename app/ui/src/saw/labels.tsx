// Labels for the pieces of one ticket, to print and stick on; without a printer
// the label stands big beside its mark, to be written on the piece.
import type { JSX } from "preact";
import { say } from "../language";
import type { SawMaterial as Material, SawTicket as Ticket } from "../made/answers";
import type { Work } from "../work";
import { called } from "./saw";

/** what is printed is said on the page's root, for the styles. */
function printed(what: "ticket" | "labels"): void {
  document.documentElement.dataset["print"] = what;
  addEventListener("afterprint", () => delete document.documentElement.dataset["print"], { once: true });
  print();
}

export function Labels({ work, material, ticket: t }: { work: Work; material: Material; ticket: Ticket }): JSX.Element {
  return (
    <>
      <div class="row no-print">
        <button onClick={() => printed("ticket")}>{say("app.print-ticket")}</button>
        <button onClick={() => printed("labels")}>{say("app.print-labels")}</button>
      </div>
      <ul class="slips" aria-hidden="true">
        {(t.marks ?? []).flatMap((m) =>
          (m.labels ?? []).map((label) => (
            <li key={label}>
              <b>{label}</b>
              <span class="long">{m.length}</span>
              <span>{called(material)}</span>
              <span>{work.job.title}</span>
            </li>
          )),
        )}
      </ul>
    </>
  );
}
