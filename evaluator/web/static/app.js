// The pages work without this file. It saves a part while it is filled in, says so, and shows or hides checks whose
// condition (the formula tree of the rubric) depends on an answer of the same page.
"use strict";

// What a link points at is unfolded first.
function unfold() {
  const target = location.hash && document.getElementById(location.hash.slice(1));
  if (!target) return;
  const inside = target.querySelector("details");
  if (target.tagName === "LI" && inside) inside.open = true;
  for (let place = target; place; place = place.parentElement) {
    if (place.tagName === "DETAILS") place.open = true;
  }
  target.scrollIntoView();
}
window.addEventListener("hashchange", unfold);
unfold();

// After a mistake the keyboard stands where it is mended.
const mistaken = document.querySelector("main [aria-invalid=true]");
if (mistaken && !location.hash) {
  for (let place = mistaken; place; place = place.parentElement) {
    if (place.tagName === "DETAILS") place.open = true;
  }
  mistaken.focus();
  if (mistaken.select) mistaken.select();
}

// A text to hand on is copied with one press; where the browser forbids that, it is selected for copying by hand.
for (const button of document.querySelectorAll("button[data-copy]")) {
  const field = document.getElementById(button.dataset.copy);
  const said = button.parentElement.querySelector(".saved");
  button.hidden = false;
  button.addEventListener("click", async () => {
    field.select();
    try {
      await navigator.clipboard.writeText(field.value);
      said.textContent = "Copied";
    } catch {
      said.textContent = "Selected: copy it now";
    }
  });
}

(() => {
  const form = document.querySelector("form[data-save]");
  if (!form) return;
  const said = document.querySelector(".saved");
  let dirty = false, timer = 0, running = Promise.resolve();

  const say = (text) => { if (said) said.textContent = text; };

  // Only what was touched on this page is sent on its way, so that two people at one instrument do not undo each other.
  const touched = new Set();
  form.elements.touched.value = " ";
  function touch(name) {
    if (!/^[a-z]-/.test(name || "")) return;
    touched.add(name.slice(2));
    form.elements.touched.value = [...touched].join(" ");
  }

  // A mistake is told beside its field, but not while it is still being typed.
  function tell(problems) {
    for (const line of form.querySelectorAll(".wrong[data-check]")) {
      const id = line.dataset.check;
      if (id in problems || !touched.has(id)) continue;
      line.remove();
      mark(form.elements[`r-${id}`], `wrong-${id}`, false);
    }
    for (const [id, text] of Object.entries(problems)) {
      const field = form.elements[`r-${id}`];
      if (!field || field === document.activeElement) continue;
      const before = form.querySelector(`.wrong[data-check="${id}"]`);
      const line = before || document.createElement("p");
      line.textContent = text;
      if (before) continue;
      Object.assign(line, { className: "wrong", id: `wrong-${id}` }).dataset.check = id;
      const row = field.closest(".one");
      if (row) row.append(line); else field.closest(".reading").before(line);
      mark(field, line.id, true);
    }
  }
  function mark(field, id, wrong) {
    if (!field) return;
    const about = new Set((field.getAttribute("aria-describedby") || "").split(" ").filter(Boolean));
    if (wrong) about.add(id); else about.delete(id);
    field.setAttribute("aria-describedby", [...about].join(" "));
    if (wrong) field.setAttribute("aria-invalid", "true"); else field.removeAttribute("aria-invalid");
  }

  // In a row of readings Enter leads to the next one, as Tab does; behind the last it sends them.
  const row = [...form.querySelectorAll(".quick input[type=text]")];
  form.addEventListener("keydown", (event) => {
    const next = row[row.indexOf(event.target) + 1];
    if (event.key !== "Enter" || !row.includes(event.target) || !next) return;
    event.preventDefault();
    next.focus();
  });

  async function save() {
    if (!dirty) return;
    dirty = false;
    say("Saving");
    try {
      const answer = await fetch(form.dataset.save, { method: "POST", body: new FormData(form), keepalive: true });
      const told = await answer.json();
      if (told.saved) {
        form.elements.version.value = told.version;
        const count = Object.keys(told.problems).length;
        say(count ? `Saved. ${count} cannot be read yet` : "Saved");
        tell(told.problems);
        for (const id of touched) {
          if (id in told.known) elsewhere[id] = told.known[id]; else delete elsewhere[id];
          const read = document.getElementById(`read-${id}`);
          if (read) read.textContent = told.read[id] || "";
          show(id);
        }
      } else {
        say(told.say || "Not saved");
      }
    } catch {
      dirty = true;
      say("Not saved yet");
    }
  }

  function later() {
    dirty = true;
    clearTimeout(timer);
    timer = setTimeout(() => { running = running.then(save); }, 600);
  }

  // What a condition may ask: a choice of this page, else what the service knows. A reading is read by the service alone,
  // which minds the unit: it tells the value when it has kept what was typed.
  const elsewhere = JSON.parse(form.dataset.known);
  function known(id) {
    if ((form.elements[`r-${id}`]?.value || "").trim()) return elsewhere[id] ?? null;
    const chosen = form.querySelector(`input[name="q-${id}"]:checked`);
    if (chosen && chosen.value !== "cannot_tell") return chosen.value || null;
    return elsewhere[id] ?? null;
  }
  function show(id) {
    for (const place of form.querySelectorAll("[data-relevant]")) {
      const tree = JSON.parse(place.dataset.relevant);
      if (formulaReads(tree, id)) place.open = formulaHolds(tree, known);
    }
  }
  form.addEventListener("change", (event) => { if (touched.has((event.target.name || "").slice(2))) later(); });
  form.addEventListener("input", (event) => {
    touch(event.target.name);
    later();
    show((event.target.name || "").slice(2));
  });
  // A link leads on only when what was typed is kept, so that the next page knows of it.
  document.addEventListener("click", (event) => {
    const link = event.target.closest("a[href]");
    if (!link || !touched.size || event.defaultPrevented || event.ctrlKey || event.metaKey || event.shiftKey) return;
    if (link.pathname === location.pathname && link.hash) return;
    event.preventDefault();
    clearTimeout(timer);
    running = running.then(save);
    Promise.race([running, new Promise((late) => setTimeout(late, 2000))]).then(() => { location.href = link.href; });
  });
  document.addEventListener("visibilitychange", () => { if (document.hidden) { clearTimeout(timer); save(); } });
  window.addEventListener("pagehide", () => { clearTimeout(timer); save(); });
  form.addEventListener("submit", () => { clearTimeout(timer); dirty = false; });
  // A browser that goes back may fill in what was typed before: that counts as touched.
  for (const field of form.elements) {
    const moved = field.type === "radio" ? field.checked !== field.defaultChecked : field.defaultValue !== undefined && field.value !== field.defaultValue;
    if (moved && field.type !== "hidden") touch(field.name);
  }
})();

// What is still being worked out is looked at again, where it stands.
(() => {
  async function again() {
    const place = document.querySelector("[data-again]");
    if (!place) return;
    try {
      const page = new DOMParser().parseFromString(await (await fetch(location.href)).text(), "text/html");
      document.querySelector("main").replaceWith(document.adoptNode(page.querySelector("main")));
    } catch { /* the next try may find it */ }
    setTimeout(again, Number(place.dataset.again));
  }
  const place = document.querySelector("[data-again]");
  if (place) setTimeout(again, Number(place.dataset.again));
})();
