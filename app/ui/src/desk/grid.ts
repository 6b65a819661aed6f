// Lengths as a job's text has them, and the grid that dragging keeps to.
import { INCH, MM, type Units } from "../lengths";

/** grids are the steps a drag may keep to, the usual one first. */
export function grids(units: Units): { name: string; nm: number }[] {
  return units === "metric"
    ? [
        { name: "50 mm", nm: 50 * MM },
        { name: "10 mm", nm: 10 * MM },
        { name: "1 mm", nm: MM },
        { name: "250 mm", nm: 250 * MM },
      ]
    : [
        { name: "1 in", nm: INCH },
        { name: "1/4 in", nm: INCH / 4 },
        { name: "6 in", nm: 6 * INCH },
        { name: "1 ft", nm: 12 * INCH },
      ];
}

/** snap is the nearest step of the grid, in nanometres. */
export const snap = (metres: number, grid: number): number => Math.round((metres * 1e9) / grid) * grid;

/** written is an exact length as a text has it: to 1/64 in or in millimetres, and
 * what neither can say in nanometres. */
export function written(nm: number, units: Units): string {
  const sign = nm < 0 ? "-" : "";
  const n = Math.abs(nm);
  if (units === "metric" || n % (INCH / 64) !== 0) return `${sign}${n / MM} mm`;
  const parts = Math.round(n / (INCH / 64));
  const feet = Math.trunc(parts / 768);
  const inches = Math.trunc((parts % 768) / 64);
  let top = parts % 64;
  let under = 64;
  while (top && top % 2 === 0) {
    top /= 2;
    under /= 2;
  }
  const fraction = top ? `${top}/${under}` : "";
  const rest = inches || !fraction ? `${inches}${fraction ? " " + fraction : ""}"` : `${fraction}"`;
  if (!feet) return sign + rest;
  return inches || fraction ? `${sign}${feet}' ${rest}` : `${sign}${feet}'`;
}

const number = String.raw`(\d+(?:\.\d+)?|\.\d+)`;
const feetInches = new RegExp(String.raw`^(?:${number}\s*(?:'|ft|feet|foot))?\s*(?:(?:${number}(?:[\s-]+(\d+)\/(\d+))?|(\d+)\/(\d+))\s*(?:"|''|in|inch|inches)?)?$`);
const metric = new RegExp(String.raw`^${number}\s*(mm|cm|m)$`);

/** parsed reads a length as people write it, 12' 6 1/2", 150 in, 3.6 m; a bare
 * number is inches or millimetres by the job's units. Nothing where it is no
 * length. */
export function parsed(text: string, units: Units): number | undefined {
  let s = text.trim().replace(/[′’]/g, "'").replace(/[″”]/g, '"').replace(/,(?=\d)/g, ".").toLowerCase();
  const minus = /^[-−]/.test(s);
  s = s.replace(/^[-−+]\s*/, "");
  if (!s) return undefined;
  const m = metric.exec(s);
  let nm: number;
  if (m) nm = Number(m[1]) * MM * { mm: 1, cm: 10, m: 1000 }[m[2] as "mm" | "cm" | "m"];
  else if (units === "metric" && /^\d+(\.\d+)?$/.test(s)) nm = Number(s) * MM;
  else {
    const f = feetInches.exec(s);
    if (!f) return undefined;
    const under = Number(f[4] ?? f[6] ?? 1);
    if (!under) return undefined;
    nm = Number(f[1] ?? 0) * 12 * INCH + Number(f[2] ?? 0) * INCH + (Number(f[3] ?? f[5] ?? 0) * INCH) / under;
  }
  if (!Number.isFinite(nm)) return undefined;
  nm = Math.round(nm);
  return minus ? -nm : nm;
}
