// The pages work without this file. It saves a part while it is filled in, says so, and shows or hides checks whose
// condition (the formula tree of the rubric) depends on an answer of the same page.
"use strict";
(() => {
  const form = document.querySelector("form[data-save]");
  if (!form) return;
  const said = document.querySelector(".saved");
  let dirty = false, timer = 0, running = Promise.resolve();

  const say = (text) => { if (said) said.textContent = text; };

  async function save() {
    if (!dirty) return;
    dirty = false;
    say("Saving");
    try {
      const answer = await fetch(form.dataset.save, { method: "POST", body: new FormData(form), keepalive: true });
      const told = await answer.json();
      if (told.saved) {
        form.elements.version.value = told.version;
        say("Saved");
        for (const line of form.querySelectorAll(".wrong[data-check]")) {
          if (!(line.dataset.check in told.problems)) line.remove();
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

  // A small reader of the rubric's formula trees: [sign, ...parts], ["name", id], ["text", s] or a number.
  const known = (id) => {
    const chosen = form.querySelector(`input[name="q-${id}"]:checked`);
    if (chosen) return chosen.value || null;
    return form.querySelector(`[name="q-${id}"]`) ? null : undefined;
  };
  function value(node) {
    if (!Array.isArray(node)) return node;
    const [sign, ...parts] = node;
    if (sign === "name") return known(parts[0]);
    if (sign === "text") return parts[0];
    const found = parts.map(value);
    if (found.includes(undefined)) return undefined;
    switch (sign) {
      case "and": return found.every(Boolean);
      case "or": return found.some(Boolean);
      case "not": return !found[0];
      case "==": return found[0] !== null && found[0] === found[1];
      case "!=": return found[0] !== null && found[0] !== found[1];
      default: return undefined;
    }
  }
  function show() {
    for (const card of form.querySelectorAll("[data-relevant]")) {
      const holds = value(JSON.parse(card.dataset.relevant));
      if (holds !== undefined) card.hidden = !holds;
    }
  }

  form.addEventListener("input", () => { later(); show(); });
  document.addEventListener("visibilitychange", () => { if (document.hidden) { clearTimeout(timer); save(); } });
  window.addEventListener("pagehide", () => { clearTimeout(timer); save(); });
  form.addEventListener("submit", () => { clearTimeout(timer); dirty = false; });
  show();
})();
