// Tells how far this phone's clock is from UTC, in minutes, so that an answer is dated in its sender's own time.
"use strict";
for (const field of document.querySelectorAll("input[name=offset]")) field.value = String(-new Date().getTimezoneOffset());
