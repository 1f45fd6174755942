/* The service worker: a shelf of files that somebody chose to keep, switched whole or not at all.
   It hardly ever changes; what changes is offline.json, which a page asks it to look at. */
"use strict";

const FILES = "kilter-files", SETS = "kilter-set";
const SET = new URL("kept-set.json", self.registration.scope).href;
const ASKED_EVERY_TIME = /^(?:revisions(?:\/[^/]+)?\.json|offline\.json|sw\.js)$/;
const SLOW = 3000;

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

self.addEventListener("fetch", (event) => {
  const {request} = event;
  const path = pathOf(request.url);
  if (request.method !== "GET" || path === null || ASKED_EVERY_TIME.test(path)) return;
  event.respondWith(answer(request, path));
});

self.addEventListener("message", (event) => {
  const port = event.ports[0];
  const tell = (data) => port && port.postMessage(data);
  const work = {keep: () => change(event.data.sets, tell), status: () => status()}[event.data.type];
  if (!work) return;
  event.waitUntil(work().then((data) => tell({done: true, ...data}), (trouble) => tell({done: true, trouble: String(trouble.message || trouble)})));
});

/** The path below the scope, without what follows `?` or `#`; null for another origin. */
function pathOf(address) {
  const url = new URL(address), scope = new URL(self.registration.scope);
  if (url.origin !== scope.origin || !url.pathname.startsWith(scope.pathname)) return null;
  return decodeURIComponent(url.pathname.slice(scope.pathname.length)) || "index.html";
}

async function kept() {
  const found = await (await caches.open(SETS)).match(SET);
  return found ? found.json() : null;
}

const named = (hash) => new URL(`kept/${hash}`, self.registration.scope).href;

async function fromShelf(path) {
  const set = await kept();
  const hash = set && set.files[path];
  return hash ? (await caches.open(FILES)).match(named(hash)) : undefined;
}

/** What the network has comes first, for so long as it does not keep anybody waiting; pictures never change. */
async function answer(request, path) {
  if (path.startsWith("pictures/")) {
    const found = await fromShelf(path);
    if (found) return found;
  }
  const page = request.mode === "navigate";
  try {
    const got = await soon(request, page ? SLOW : 2 * SLOW);
    if (got.status < 500) return page && got.redirected ? foreign(got, path) : got;
  } catch { /* no connection, or too slow */ }
  return (await fromShelf(path)) || (page ? absent() : Response.error());
}

/** A sign-in page of the house's network answers in the place of ours. What was kept is better than that. */
async function foreign(got, path) {
  return (await fromShelf(path)) || got;
}

function soon(request, limit) {
  const stop = new AbortController();
  const timer = setTimeout(() => stop.abort(), limit);
  return fetch(request, request.mode === "navigate" ? {} : {signal: stop.signal}).finally(() => clearTimeout(timer));
}

async function absent() {
  const page = await fromShelf("shelf.html");
  const words = page ? await page.text() : "<!doctype html><meta charset=utf-8><title>-</title><p>Not kept on this phone.";
  return new Response(words.replace("<html", '<html data-absent="yes"'), {status: 503, headers: {"Content-Type": "text/html; charset=utf-8"}});
}

async function manifest() {
  const got = await fetch(new URL("offline.json", self.registration.scope), {cache: "no-store", redirect: "error", signal: AbortSignal.timeout(8000)});
  const data = got.ok ? await got.json() : {};
  if (data.schema !== "kilter-offline-1") throw new Error("foreign");
  return data;
}

/** Take the files of the chosen sets, all or nothing: the list that names them is stored last. */
async function change(sets, tell) {
  const cache = await caches.open(FILES);
  if (!sets.length) {
    await caches.delete(SETS);
    await sweep(cache, {});
    return {sets: [], files: 0};
  }
  const offer = await manifest();
  const chosen = sets.filter((name) => name in offer.sets);
  const paths = [...new Set(["shell", ...chosen].flatMap((name) => offer.sets[name].paths))];
  const files = Object.fromEntries(paths.map((path) => [path, offer.files[path]]));
  let done = 0, fetched = 0;
  const waiting = [...paths];
  const worker = async () => {
    for (let path = waiting.pop(); path !== undefined; path = waiting.pop()) {
      fetched += await take(cache, path, files[path]);
      done += 1;
      if (done % 5 === 0 || done === paths.length) tell({progress: done, of: paths.length});
    }
  };
  // one that fails empties the queue; the answer goes out only when nobody is at work any more
  const ends = await Promise.allSettled(Array.from({length: 6}, () => worker().catch((trouble) => { waiting.length = 0; throw trouble; })));
  const failed = ends.find((end) => end.status === "rejected");
  if (failed) throw failed.reason;
  const titles = Object.fromEntries(chosen.map((name) => [name, offer.sets[name].title]));
  const set = {sets: chosen, titles, files, rev: offer.rev, at: Date.now(), bytes: paths.reduce((sum, path) => sum + offer.bytes[path], 0)};
  await (await caches.open(SETS)).put(SET, new Response(JSON.stringify(set)));
  await sweep(cache, files);
  return {sets: chosen, files: paths.length, fetched, rev: offer.rev};
}

async function take(cache, path, hash) {
  if (await cache.match(named(hash))) return 0;
  const got = await fetch(new URL(path, self.registration.scope), {cache: "reload", redirect: "error"});
  if (!got.ok) throw new Error(`missing ${path}`);
  const body = await got.arrayBuffer();
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", body));
  const hex = [...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  if (!hex.startsWith(hash)) throw new Error(`changed ${path}`);
  await cache.put(named(hash), new Response(body, {headers: {"Content-Type": got.headers.get("Content-Type") || "application/octet-stream"}}));
  return 1;
}

/** Files that no list names any more, such as those of an update that was cut off. */
async function sweep(cache, files) {
  const wanted = new Set(Object.values(files).map(named));
  for (const request of await cache.keys()) if (!wanted.has(request.url)) await cache.delete(request);
}

async function status() {
  const set = await kept();
  return set ? {sets: set.sets, titles: set.titles || {}, rev: set.rev, at: set.at, bytes: set.bytes, files: Object.keys(set.files).length} : {sets: []};
}
