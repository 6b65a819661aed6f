// What the pages say, in the language of whoever holds the device. The messages
// come from the same catalogue as the papers'; a language is added there.
import { keep } from "./keep";
import { languages, messages, type Values } from "./made/words";

export { languages };

/** English fills what a language lacks, and what is said in no other: desk and office. */
const english = "en";

let tag = english;
let chosen = "";
const watchers = new Set<() => void>();

/** language is the tag that is spoken now, as "es". */
export const language = (): string => tag;

export function onLanguage(f: () => void): () => void {
  watchers.add(f);
  return () => watchers.delete(f);
}

/** known is the catalogue's language that a wish, such as "es-MX", comes to. */
function known(wish: string): string | undefined {
  const w = wish.toLowerCase();
  return (languages.find((l) => l.tag.toLowerCase() === w) ?? languages.find((l) => l.tag.toLowerCase() === w.split("-")[0]))?.tag;
}

/** settle takes what was chosen on this device, else what the browser asks for,
 * else the job's language. */
function settle(job?: string): void {
  const now = [chosen, ...navigator.languages, job ?? ""].map(known).find((t) => t !== undefined) ?? english;
  document.documentElement.lang = now;
  if (now === tag) return;
  tag = now;
  watchers.forEach((f) => f());
}

/** openLanguage reads what was chosen on this device. */
export async function openLanguage(): Promise<void> {
  chosen = await keep.get("language").catch(() => "");
  settle();
}

/** ofJob is told of the job that is open. */
export const ofJob = (job: string | undefined): void => settle(job);

/** choose keeps a language for this device. */
export async function choose(to: string): Promise<void> {
  chosen = to;
  settle();
  await keep.set("language", to);
}

type Given<K extends keyof Values> = Values[K] extends undefined ? [] : [Values[K]];

/** say is a message with its values in it. */
export function say<K extends keyof Values>(key: K, ...given: Given<K>): string {
  const values = (given[0] ?? {}) as Record<string, string | number>;
  const own = messages[tag]?.[key];
  if (own === undefined) return (tag === english ? "" : "[en] ") + fill(english, messages[english]![key]!, values);
  return fill(tag, own, values);
}

function fill(of: string, m: string | Record<string, string>, values: Record<string, string | number>): string {
  const text = typeof m === "string" ? m : (m[new Intl.PluralRules(of).select(Number(values["n"]))] ?? m["other"]!);
  return text.replace(/\{\{|\}\}|\{(\^?)([a-z0-9-]+)\}/g, (all, big: string | undefined, name: string | undefined) => {
    if (!name) return all[0]!;
    const v = String(values[name] ?? `{${name}?}`);
    return big ? v.charAt(0).toLocaleUpperCase(of) + v.slice(1) : v;
  });
}
