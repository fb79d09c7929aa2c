// Reckons the answers anew at each press. Without this the button at the foot does the same.
"use strict";
const form = document.getElementById("answers");
form.addEventListener("change", async () => {
  const data = new FormData(form);
  data.set("go", "change");
  try {
    const answer = await fetch(form.action, { method: "POST", body: data, credentials: "same-origin" });
    if (!answer.ok) return;
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    document.getElementById("sofar").replaceWith(page.getElementById("sofar"));
    for (const effect of page.querySelectorAll(".offer[id] .effect")) {
      const mine = document.getElementById(effect.closest(".offer").id);
      mine.querySelector(".effect").replaceWith(effect);
    }
  } catch { /* The next press, or the button, tries again. */ }
});
