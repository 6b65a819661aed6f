// Addresses of the app's places: #/ is the list of jobs, #/job/ID/desk one of a
// job's places. They work without a server behind them.
import { useEffect, useState } from "preact/hooks";

export interface Place {
  /** jobs, job, shop, people, account */
  part: string;
  job: string;
  /** within a job: desk, barn, saw, day, papers, history */
  room: string;
  /** what is looked at there: a bay, a ticket, a step */
  at: string;
}

export function read(hash: string): Place {
  const [part = "", a = "", b = "", ...rest] = hash.replace(/^#\/?/, "").split("/").map(plain);
  if (part === "job") return { part, job: a, room: b, at: rest.join("/") };
  return { part: part || "jobs", job: "", room: a, at: b };
}

/** plain reads a part of an address; one that is written wrong stays as it is. */
function plain(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

export function address(job: string, room: string, at = ""): string {
  return `#/job/${encodeURIComponent(job)}/${room}${at ? "/" + encodeURIComponent(at) : ""}`;
}

export function usePlace(): Place {
  const [hash, set] = useState(location.hash);
  useEffect(() => {
    const turn = (): void => set(location.hash);
    addEventListener("hashchange", turn);
    return () => removeEventListener("hashchange", turn);
  }, []);
  return read(hash);
}
