// Answers that wait for the net: kept on this phone until the service has them, and sent again by whatever page is open.
"use strict";

const waiting = (() => {
  const KEY = "answers that wait", SENT = "answers that were sent", ASIDE = "answers that were not taken", MOST_SENT = 300;
  const listeners = [];
  let sending = false, held = 0;

  const kept = (key) => { try { return JSON.parse(localStorage.getItem(key)) || []; } catch { return []; } };
  const read = () => kept(KEY);
  const write = (list) => { localStorage.setItem(KEY, JSON.stringify(list)); };
  const writer = () => {
    let name = localStorage.getItem("writer");
    if (!name) {
      name = [...crypto.getRandomValues(new Uint8Array(8))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
      localStorage.setItem("writer", name);
    }
    return name;
  };
  const tell = (news) => { for (const listener of listeners) listener({ left: read().length, ...news }); };

  function add(entry) {
    write([...read(), { ...entry, key: `${Date.now()}-${Math.random()}` }]);
    tell({});
    send();
  }

  // One address at a time, in the order in which the answers were given; what was taken is dropped only then.
  async function send() {
    if (sending || Date.now() < held) return;
    sending = true;
    try {
      for (let list = read(); list.length; list = read()) {
        const url = list[0].url;
        const batch = list.filter((one) => one.url === url).slice(0, 50);
        const token = document.querySelector("meta[name=csrf-token]").content;
        const reply = await fetch(url, {
          method: "POST",
          headers: { "Content-Type": "application/json", "X-CSRFToken": token },
          keepalive: true,
          body: JSON.stringify({ writer: writer(), sent: batch.map(({ check, answer, version }) => ({ check, answer, version })) }),
        });
        if (reply.status >= 500 || reply.status === 429 || reply.status === 403) throw new Error("later");
        if (reply.status === 400 && !(reply.headers.get("Content-Type") || "").includes("json")) {
          await freshToken();  // the page is older than the service's key, or came from this phone's own store
          throw new Error("later");
        }
        const told = await reply.json().catch(() => ({}));
        const over = [404, 409, 410].includes(reply.status);  // finished, or the link has ended: it will never be taken
        if (!reply.ok && !over) { tell({ say: told.say, refused: true }); throw new Error("refused"); }
        const sent = new Set(batch.map((one) => one.key));
        if (over) localStorage.setItem(ASIDE, JSON.stringify([...kept(ASIDE), ...batch].slice(-MOST_SENT)));
        if (told.version) note(batch, told);
        write(read().filter((one) => !sent.has(one.key)));
        tell({ told, url, say: told.say });
      }
      held = 0;
    } catch {
      held = Date.now() + 3000;
      tell({ offline: true });
    }
    sending = false;
  }
  async function freshToken() {
    const text = await (await fetch(location.href, { headers: { Accept: "text/html" } })).text();
    const found = new DOMParser().parseFromString(text, "text/html").querySelector("meta[name=csrf-token]");
    if (!found) return;
    document.querySelector("meta[name=csrf-token]").content = found.content;
    for (const field of document.querySelectorAll("input[name=csrf_token]")) field.value = found.content;
  }
  // What was taken, with the version since which the service's own page knows it: an older page, opened again without a
  // net, shows it too.
  function note(batch, told) {
    const wrong = new Set((told.told || []).filter((one) => one.problem).map((one) => one.check));
    const fresh = batch.filter((one) => !wrong.has(one.check)).map(({ url, check, answer }) => ({ url, check, answer, since: told.version }));
    localStorage.setItem(SENT, JSON.stringify([...kept(SENT), ...fresh].slice(-MOST_SENT)));
  }
  const notTaken = (url) => kept(ASIDE).filter((one) => one.url === url && (one.answer.outcome || one.answer.reading));
  const sentSince = (url, version) => kept(SENT).filter((one) => one.url === url && one.since > version);
  window.addEventListener("online", () => { held = 0; send(); });
  document.addEventListener("visibilitychange", () => { if (!document.hidden) { held = 0; send(); } });
  setInterval(() => { if (read().length) send(); }, 4000);
  if (read().length) send();
  // Resolves when nothing waits any more, or after two seconds: the next page should know what was just answered.
  const settled = async () => {
    for (let tries = 0; read().length && tries < 20; tries += 1) await new Promise((later) => setTimeout(later, 100));
  };
  return { add, read, sentSince, notTaken, settled, freshToken, listen: (listener) => listeners.push(listener), writer };
})();

// Photos are too large for the list above: they wait in the browser's own database.
const photosWaiting = (() => {
  const listeners = [];
  let sending = false;
  const open = () => new Promise((done, failed) => {
    const asked = indexedDB.open("photos that wait", 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore("photos", { autoIncrement: true });
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => failed(asked.error);
  });
  const run = async (mode, work) => {
    const database = await open();
    return new Promise((done, failed) => {
      const asked = work(database.transaction("photos", mode).objectStore("photos"));
      asked.onsuccess = () => { done(asked.result); database.close(); };
      asked.onerror = () => { failed(asked.error); database.close(); };
    });
  };
  async function post({ url, file, by }, again = true) {
    const form = new FormData();
    form.append("photo", file, "photo");
    form.append("by", by);
    form.append("csrf_token", document.querySelector("meta[name=csrf-token]").content);
    const reply = await fetch(url, { method: "POST", body: form, headers: { Accept: "application/json" } });
    if (reply.status >= 500 || reply.status === 403) throw new Error("later");
    if (reply.status === 400 && !(reply.headers.get("Content-Type") || "").includes("json")) {
      await waiting.freshToken();  // the page is older than the service's key
      if (again) return post({ url, file, by }, false);
      throw new Error("later");
    }
    const large = "The photo is too large. Send a smaller one.", other = "The photo was not kept. Send it once more.";
    const told = await reply.json().catch(() => ({ problem: reply.status === 413 ? large : other }));
    for (const listener of listeners) listener(url, told.problem, told.photos);
  }
  async function add(entry) {
    try { await post(entry); } catch { await run("readwrite", (photos) => photos.add(entry)); }
  }
  async function send() {
    if (sending || !window.indexedDB) return;
    sending = true;
    try {
      for (const key of await run("readonly", (photos) => photos.getAllKeys())) {
        await post(await run("readonly", (photos) => photos.get(key)));
        await run("readwrite", (photos) => photos.delete(key));
      }
    } catch { /* still no net: they stay where they are */ }
    sending = false;
  }
  window.addEventListener("online", send);
  window.addEventListener("load", send);
  return { add, send, listen: (listener) => listeners.push(listener) };
})();
