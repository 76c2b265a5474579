"use strict";

const meta = (name) => document.querySelector(`meta[name="${name}"]`)?.content;

const freshKey = () =>
  Array.from(crypto.getRandomValues(new Uint8Array(16)), (b) => b.toString(16).padStart(2, "0")).join("");

document.addEventListener("click", (event) => {
  if (!event.target.closest("[data-theme-switch]")) return;
  const root = document.documentElement;
  const dark = root.dataset.theme
    ? root.dataset.theme === "dark"
    : matchMedia("(prefers-color-scheme: dark)").matches;
  root.dataset.theme = dark ? "light" : "dark";
  localStorage.setItem("theme", root.dataset.theme);
});

document.addEventListener("htmx:configRequest", (event) => {
  const { headers, verb, parameters } = event.detail;
  const token = meta("csrf-token");
  if (token) headers[meta("csrf-header")] = token;
  if (verb !== "get" && !parameters.has?.("idempotencyKey") && !parameters.idempotencyKey) {
    headers["Idempotency-Key"] = freshKey();
  }
});

document.addEventListener("htmx:beforeRequest", (event) => {
  document.getElementById("problems")?.replaceChildren();
  // What was scanned stays to be sent again, and the next scan takes its place.
  event.detail.elt.querySelector("[data-scan]")?.select();
});

// A form that stays on the page after a stored request needs a new key for the next one.
document.addEventListener("htmx:afterRequest", (event) => {
  if (!event.detail.successful) return;
  const key = event.detail.elt.closest("form")?.querySelector("input[name=idempotencyKey]");
  if (key) key.value = freshKey();
});

document.addEventListener("htmx:sendError", () => {
  const place = document.getElementById("problems");
  if (!place) return;
  const text = document.createElement("p");
  text.className = "alert bad";
  text.textContent = place.dataset.unreachable;
  place.replaceChildren(text);
});

// A table's box for all its rows works by script only, so it shows by script only.
document.querySelectorAll("[data-choose-all]").forEach((box) => {
  box.hidden = false;
});
document.addEventListener("change", (event) => {
  const all = event.target.closest("[data-choose-all]");
  all?.closest("table").querySelectorAll("tbody input[type=checkbox]").forEach((box) => {
    box.checked = all.checked;
  });
});

// What scrolls sideways can be reached and scrolled by keyboard, too.
const reachable = () =>
  document.querySelectorAll(".scroll").forEach((box) => {
    if (box.scrollWidth > box.clientWidth) box.tabIndex = 0;
    else box.removeAttribute("tabindex");
  });
addEventListener("resize", reachable);
document.addEventListener("toggle", reachable, true);
document.addEventListener("htmx:afterSettle", reachable);
reachable();
