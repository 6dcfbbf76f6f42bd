// Keeps the round on the phone: its page, scripts and styles, newest first, the kept copy where the network is gone.
// What is entered is not this worker's: the page queues it and sends it.
const shelf = "round-1";
const kept = [
  "/round", "/css/tokens.css", "/css/rootwater.css", "/css/round.css", "/js/shell.js",
  "/js/round/round.js", "/js/round/queue.js", "/js/round/seen.js", "/js/round/numbers.js", "/js/round/words.js",
  "/favicon.svg", "/round.webmanifest", "/icons/rootwater-192.png",
];
const patience = 4000; // ms; at the edge of the network a request can hang for a minute

self.addEventListener("install", event => event.waitUntil((async () => {
  const cache = await caches.open(shelf);
  await Promise.all(kept.map(path => store(cache, path)));
  await self.skipWaiting();
})()));

self.addEventListener("activate", event => event.waitUntil((async () => {
  for (const name of await caches.keys()) if (name.startsWith("round-") && name !== shelf) await caches.delete(name);
  await self.clients.claim();
})()));

self.addEventListener("fetch", event => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== self.location.origin || !kept.includes(url.pathname)) return;
  event.respondWith(newest(event, url.pathname));
});

async function newest(event, path) {
  const cache = await caches.open(shelf);
  const copy = await cache.match(path);
  const fetching = fetch(event.request).then(async answer => {
    if (fit(answer)) await cache.put(path, answer.clone());
    return answer;
  });
  event.waitUntil(fetching.catch(() => {}));
  if (!copy) return fetching;
  try {
    const answer = await Promise.race([fetching, new Promise((_, late) => setTimeout(late, patience, new Error("late")))]);
    return answer.status >= 500 ? copy : answer;
  } catch {
    return copy;
  }
}

async function store(cache, path) {
  const answer = await fetch(path, { cache: "no-cache" });
  if (fit(answer)) await cache.put(path, answer);
}

// Never the sign-in page in the round's place.
function fit(answer) {
  return answer.ok && !answer.redirected && answer.type === "basic";
}
