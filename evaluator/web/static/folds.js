// A line of a result unfolds where it stands: the page that it leads to is fetched, and its section put below the line.
// Without this file, and where the net is away, the line is a plain link to that page.
"use strict";

function folded(list) {
  for (const link of list.querySelectorAll(":scope > li > a")) {
    const details = document.createElement("details");
    const summary = document.createElement("summary");
    summary.append(...link.childNodes);
    details.append(summary);
    details.dataset.from = link.href;
    link.replaceWith(details);
    details.addEventListener("toggle", () => { if (details.open) fetched(details, list); });
  }
}

// Fetched once; what went wrong is tried again by the next press.
async function fetched(details, list) {
  if (details.dataset.asked) return details.done;
  details.dataset.asked = "yes";
  details.done = (async () => {
    const place = document.createElement("div");
    place.className = "section";
    place.textContent = "Fetching it.";
    place.setAttribute("role", "status");
    details.append(place);
    try {
      const answer = await fetch(details.dataset.from, { credentials: "same-origin" });
      const section = new DOMParser().parseFromString(await answer.text(), "text/html").querySelector(".section");
      if (!answer.ok || !section) throw new Error("no section");
      if (list.dataset.version && section.dataset.version !== list.dataset.version) section.prepend(changed());
      place.replaceWith(document.adoptNode(section));
      for (const inner of section.querySelectorAll("ul.folded")) folded(inner);
    } catch {
      delete details.dataset.asked;
      place.replaceChildren("This could not be fetched. ", again(details));
      details.addEventListener("toggle", () => place.remove(), { once: true });
    }
  })();
  return details.done;
}

function again(details) {
  const link = document.createElement("a");
  link.href = details.dataset.from;
  link.textContent = "Open it as a page.";
  return link;
}

function changed() {
  const line = document.createElement("p");
  const link = document.createElement("a");
  line.className = "notice";
  link.href = location.pathname;
  link.textContent = "Show the result anew.";
  line.append("An answer has changed since this page was opened. ", link);
  return line;
}

// A link to a place in a section that is folded on this page opens it here.
document.addEventListener("click", async (event) => {
  const link = event.target.closest("a[href*='#']");
  if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return;
  const address = link.href.split("#")[0];
  const details = [...document.querySelectorAll("details[data-from]")].find((one) => one.dataset.from === address);
  if (!details || details.contains(link)) return;
  event.preventDefault();
  details.open = true;
  await fetched(details, details.closest("ul.folded"));
  const target = document.getElementById(link.hash.slice(1)) || details;
  const inside = target.querySelector("details");
  if (target.tagName === "LI" && inside) inside.open = true;
  target.scrollIntoView();
});

// On paper nothing is folded; what nobody has opened is left to its own page.
window.addEventListener("beforeprint", () => {
  for (const one of document.querySelectorAll("details:not([open])")) {
    if (one.dataset.from && !one.dataset.asked) continue;
    one.open = true;
    one.dataset.printed = "yes";
  }
});
window.addEventListener("afterprint", () => {
  for (const one of document.querySelectorAll("details[data-printed]")) {
    one.open = false;
    delete one.dataset.printed;
  }
});

for (const list of document.querySelectorAll("ul.folded")) folded(list);
