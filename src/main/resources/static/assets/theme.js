// Runs before the first paint, so that a remembered choice doesn't flash.
"use strict";
(() => {
  const chosen = localStorage.getItem("theme");
  if (chosen === "light" || chosen === "dark") {
    document.documentElement.dataset.theme = chosen;
  }
})();
