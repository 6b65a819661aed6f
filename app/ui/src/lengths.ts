// Lengths in the page are whole nanometres, as everywhere; a Number holds them
// exactly up to 9,000 km.

export const INCH = 25_400_000;
export const MM = 1_000_000;

export type Units = "feet" | "metric";

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
