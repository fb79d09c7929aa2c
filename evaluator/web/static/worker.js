// Opens a visit again where there is no net. It lies between the pages and the net where the address is secure; all that
// it keeps is a page of looks, what that page shows, and nothing of a result. Answers are kept by queue.js, not here.
"use strict";

const KEPT = "visits 2";
const VISIT = /^\/(evaluations\/[^/]+\/looks|g\/[^/]+)$/;
const PART = /^\/(static|drawings)\/|\/told\.json$/;
const WAIT = 4000;  // a net that says nothing for so long is none

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => {
  event.waitUntil(caches.keys()
    .then((names) => Promise.all(names.filter((name) => name !== KEPT).map((name) => caches.delete(name))))
    .then(() => self.clients.claim()));
});

// The first page came before this file was there: it names itself and what it shows.
self.addEventListener("message", (event) => {
  const paths = (event.data && event.data.keep) || [];
  event.waitUntil(Promise.all(paths.map(async (path) => {
    try {
      const reply = await fetch(path, { credentials: "same-origin" });
      if (reply.ok && !reply.redirected) await (await caches.open(KEPT)).put(path.split("?")[0], reply);
    } catch { /* without a net there is nothing to keep */ }
  })));
});

self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  if (url.origin !== location.origin) return;
  if (event.request.method !== "GET") {
    if (url.pathname === "/sign-out") event.waitUntil(caches.delete(KEPT));
    return;
  }
  if (event.request.mode === "navigate") event.respondWith(page(event.request, url.pathname));
  else if (PART.test(url.pathname)) event.respondWith(part(event.request, url.pathname));
});

async function page(request, path) {
  const kept = await caches.open(KEPT);
  const before = await kept.match(path);
  try {
    const reply = await (before ? soon(fetch(request)) : fetch(request));
    if (!VISIT.test(path)) return reply;
    // Whoever is shown the door, or whose link has ended, keeps no copy either.
    if (reply.ok && !reply.redirected) await kept.put(path, reply.clone());
    else if (reply.status < 500) await kept.delete(path);
    return reply;
  } catch {
    return before || nothing(kept);
  }
}

async function part(request, path) {
  const kept = await caches.open(KEPT);
  try {
    const reply = await fetch(request);
    if (reply.ok && await kept.match(path)) await kept.put(path, reply.clone());
    return reply;
  } catch {
    return (await kept.match(path)) || Response.error();
  }
}

const soon = (reply) => Promise.race([reply, new Promise((_, late) => setTimeout(() => late(new Error("late")), WAIT))]);

async function nothing(kept) {
  const visits = (await kept.keys()).map((one) => new URL(one.url).pathname).filter((path) => VISIT.test(path));
  const lines = await Promise.all(visits.map(async (path) => {
    const title = /<title>[^:<]*: ([^<]*)</.exec(await (await kept.match(path)).text());  // as the page itself has it, escaped
    return `<li><a href="${path}"><span class="what">${title ? title[1] : "The looks"}</span><span class="soft">Go on with the looks.</span></a></li>`;
  }));
  const html = `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>No net</title><link rel="stylesheet" href="/static/app.css"></head><body><header class="top"><div class="wrap"><span class="name">Evaluations</span></div></header>
<main class="wrap"><h1>There is no net just now</h1><p>What you answered is kept on this phone and sent by itself when the net is back.</p>
${lines.length ? `<h2>On this phone</h2><ul class="list">${lines.join("")}</ul>` : ""}<p><a class="button" href="">Try again</a></p></main></body></html>`;
  return new Response(html, { status: 503, headers: { "Content-Type": "text/html; charset=utf-8", "Content-Security-Policy": "default-src 'self'" } });
}
