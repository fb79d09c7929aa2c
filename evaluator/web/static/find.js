// What a search finds stands under its field while one types: the page of the search is fetched, and its list taken over.
// Without this file, and where the net is away, the field is a plain form.
"use strict";

for (const form of document.querySelectorAll("form[data-find]")) {
  const field = form.querySelector("input[type=search]");
  const place = document.getElementById(form.dataset.find);
  let waiting = 0, asking = null;

  async function shown() {
    asking?.abort();
    if (!field.value.trim()) return place.replaceChildren();
    asking = new AbortController();
    try {
      const address = `${form.action}?${new URLSearchParams({ q: field.value })}`;
      const answer = await fetch(address, { credentials: "same-origin", signal: asking.signal });
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      const found = page.querySelector(".found");
      if (!answer.ok || !found) return;
      document.querySelector("main > .found")?.remove();
      place.replaceChildren(document.adoptNode(found));
    } catch { /* the form still works */ }
  }

  field.addEventListener("input", () => {
    clearTimeout(waiting);
    waiting = setTimeout(shown, 150);
  });
}
