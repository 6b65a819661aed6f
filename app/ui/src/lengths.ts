// Lengths in the page are whole nanometres, as everywhere; a Number holds them
// exactly up to 9,000 km.

export const INCH = 25_400_000;
export const MM = 1_000_000;

export type Units = "feet" | "metric";

/** unitsOf are a job's: from its plan, or from its text while there is none. */
export function unitsOf(work: { planned?: { document: { job: { units: string } } } | undefined; job: { text: string } }): Units {
  return (work.planned?.document.job.units ?? (/^units:\s*["']?metric/m.test(work.job.text) ? "metric" : "feet")) as Units;
}

/** show writes a length as the job's tape shows it: to 1/16 in or 1 mm. What lies
 * between two marks is rounded to the nearer one and marked as such. */
export function show(nm: number, units: Units): string {
  if (units === "metric") {
    const mm = Math.round(nm / MM);
    return `${mm * MM === nm ? "" : "≈"}${mm} mm`;
  }
  const sign = nm < 0 ? "−" : "";
  const n = Math.abs(nm);
  const sixteenths = Math.round(n / (INCH / 16));
  const about = sixteenths * (INCH / 16) === n ? "" : "≈";
  const feet = Math.trunc(sixteenths / 192);
  const inches = Math.trunc((sixteenths % 192) / 16);
  let top = sixteenths % 16;
  let under = 16;
  while (top && top % 2 === 0) {
    top /= 2;
    under /= 2;
  }
  const fraction = top ? ` ${top}/${under}` : "";
  if (feet) return `${about}${sign}${feet}' ${inches}${fraction}"`;
  return inches || !top ? `${about}${sign}${inches}${fraction}"` : `${about}${sign}${top}/${under}"`;
}

/** parts of a length for the big entry: feet, inches and sixteenths. */
export interface TapeParts {
  feet: number;
  inches: number;
  sixteenths: number;
}

export function typedFeet(p: TapeParts): string {
  let top = p.sixteenths;
  let under = 16;
  while (top && top % 2 === 0) {
    top /= 2;
    under /= 2;
  }
  return `${p.feet}' ${p.inches}${top ? ` ${top}/${under}` : ""}"`;
}

/** nanometres reads what the big entry writes: 11' 6 1/2" or 3505 mm. What it
 * cannot read is nothing. */
export function nanometres(typed: string, units: Units): number | undefined {
  const metric = /^(\d+)(?:\s*mm)?$/.exec(typed.trim());
  if (metric && (units === "metric" || typed.endsWith("mm"))) return Number(metric[1]) * MM || undefined;
  const f = /^(?:(\d+)\s*')?\s*(?:(\d+)(?![\d/]))?\s*(?:(\d+)\/(\d+))?\s*"?$/.exec(typed.trim());
  if (!f || !typed.trim()) return undefined;
  const part = f[3] && Number(f[4]) ? (Number(f[3]) * INCH) / Number(f[4]) : 0;
  return Math.round((Number(f[1] ?? 0) * 12 + Number(f[2] ?? 0)) * INCH + part) || undefined;
}
