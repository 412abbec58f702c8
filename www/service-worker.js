// Keeps the page usable without a network. The build puts VERSION, and FILES with the name of every file of the site, in front.
//
// Each version has one cache, filled completely before the version counts as installed. A page is always served from one version, never a
// mixture. A new version waits until the page asks for it or every tab is closed. What a person typed is in the page's own storage, which
// no version touches.
"use strict";

const CACHE = `lengthwise-${VERSION}`;

self.addEventListener("install", (event) => {
  const fresh = FILES.map((name) => new Request(name, { cache: "reload" }));
  event.waitUntil(caches.open(CACHE).then((cache) => cache.addAll(fresh)));
});

self.addEventListener("activate", (event) => {
  const tidied = caches.keys().then((names) => {
    const old = names.filter((name) => name.startsWith("lengthwise-") && name !== CACHE);
    return Promise.all(old.map((name) => caches.delete(name)));
  });
  event.waitUntil(tidied);
});

// The event waits for this: the browser may stop a worker whose event has ended, and with it the change of version.
self.addEventListener("message", (event) => {
  if (event.data === "take over") event.waitUntil(self.skipWaiting());
});

self.addEventListener("fetch", (event) => {
  const address = new URL(event.request.url);
  if (event.request.method !== "GET" || address.origin !== self.location.origin) return;
  event.respondWith(answer(event.request));
});

// Where the page found a cached file damaged, it asks past the cache; the right file then replaces it.
async function answer(request) {
  const cache = await caches.open(CACHE);
  if (request.cache === "reload" && request.mode !== "navigate") {
    const fresh = await fetch(request);
    if (fresh.ok) await cache.put(request.url, fresh.clone());
    return fresh;
  }
  const atTheTop = new URL(request.url).pathname === new URL("./", self.location).pathname;
  return (await cache.match(atTheTop ? "index.html" : request, { ignoreSearch: true })) ?? fetch(request);
}
