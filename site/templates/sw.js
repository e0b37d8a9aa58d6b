// Keeps what was visited, and what every page needs, for reading without a network. With a network every file comes
// from there, so that pages, banks and scripts of two builds are not mixed; without one, from what is kept.
(function () {
  "use strict";
  const VERSION = "@version@";
  const SHELL = ["@shell@"];
  const PATIENCE = 4000; // milliseconds that a network may take when a kept copy is at hand
  const scope = self.registration.scope; // the top folder of the site, wherever it stands
  const OURS = `steadyrail:${new URL(scope).pathname}:`; // other sites may stand in other folders of the same host
  const KEPT = OURS + VERSION;

  // Where a file is kept: without what follows ? and #, the folder itself as its index.
  function placeOf(address) {
    const url = new URL(address, scope);
    return url.origin + (url.href.startsWith(scope) && url.pathname.endsWith("/") ? `${url.pathname}index.html` : url.pathname);
  }

  async function keep(address) {
    const place = placeOf(address);
    const found = await fetch(place, { cache: "no-cache" });
    if (!found.ok) return;
    // What came by a detour may not answer for a page, so that its text is kept as if it had come straight.
    const straight = found.redirected ? new Response(await found.blob(), { headers: found.headers }) : found;
    await (await caches.open(KEPT)).put(place, straight);
  }

  async function olderCaches() {
    return (await caches.keys()).filter((name) => name.startsWith(OURS) && name !== KEPT);
  }

  // What was visited under an older build is fetched anew, so that it can go on being read; then the older goes.
  async function takeOver() {
    const fresh = await caches.open(KEPT);
    for (const name of await olderCaches()) {
      const older = await caches.open(name);
      const again = async (request) => {
        try {
          await keep(request.url);
        } catch (error) {
          await fresh.put(request.url, await older.match(request)); // rather the older page than none
        }
      };
      await Promise.allSettled((await older.keys()).map(again));
      await caches.delete(name);
    }
    await self.clients.claim();
  }

  async function answer(event) {
    const place = placeOf(event.request.url);
    const keeping = [];
    const fetched = fetch(event.request).then((found) => {
      if (found.ok && found.type === "basic") {
        const copy = found.clone();
        keeping.push(caches.open(KEPT).then((cache) => cache.put(place, copy)));
      }
      return found;
    });
    event.waitUntil(fetched.then(() => Promise.all(keeping)).catch(() => null)); // a network that fails late
    const waited = new Promise((resolve) => setTimeout(() => resolve(null), PATIENCE));
    const kept = async () => (await caches.open(KEPT)).match(place);
    try {
      return (await Promise.race([fetched, waited])) || (await kept()) || (await fetched);
    } catch (error) {
      return (await kept()) || Response.error();
    }
  }

  self.addEventListener("install", (event) => {
    event.waitUntil(Promise.all(SHELL.map(keep)).then(() => self.skipWaiting()));
  });
  self.addEventListener("activate", (event) => event.waitUntil(takeOver()));
  self.addEventListener("message", (event) => {
    const places = (event.data && event.data.visited) || [];
    const ours = places.filter((place) => typeof place === "string" && place.startsWith(scope));
    event.waitUntil(Promise.allSettled(ours.map(keep)));
  });
  self.addEventListener("fetch", (event) => {
    const { request } = event;
    if (request.method === "GET" && request.url.startsWith(scope)) event.respondWith(answer(event));
  });
})();
