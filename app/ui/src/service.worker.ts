// Keeps the pages for times without signal. Everything under /assets never
// changes under its name; the page itself is fetched anew where there is signal.
declare const FILES: string[];
declare const VERSION: string;

const scope = self as unknown as ServiceWorkerGlobalScope;
const shelf = "pages-" + VERSION;

scope.addEventListener("install", (e) => {
  e.waitUntil(
    (async () => {
      const cache = await caches.open(shelf);
      await cache.addAll(FILES.map((f) => (f === "/index.html" ? "/" : f)));
      await scope.skipWaiting();
    })(),
  );
});

scope.addEventListener("activate", (e) => {
  e.waitUntil(
    (async () => {
      for (const name of await caches.keys()) if (name.startsWith("pages-") && name !== shelf) await caches.delete(name);
      await scope.clients.claim();
    })(),
  );
});

scope.addEventListener("fetch", (e) => {
  const url = new URL(e.request.url);
  if (e.request.method !== "GET" || url.origin !== scope.location.origin || url.pathname.startsWith("/api/")) return;
  if (e.request.mode === "navigate") {
    if (!url.pathname.startsWith("/share/")) e.respondWith(page(e.request));
    return;
  }
  e.respondWith((async () => (await caches.match(e.request)) ?? fetch(e.request))());
});

/** patience is how long a bad line may take to bring the page, in milliseconds,
 * before the one that is kept is shown. */
const patience = 2_500;

async function page(request: Request): Promise<Response> {
  const kept = await caches.match("/");
  const fresh = fetch(request);
  if (!kept) return fresh;
  const late = new Promise<Response>((done) => setTimeout(done, patience, kept));
  return Promise.race([fresh.catch(() => kept), late]);
}
