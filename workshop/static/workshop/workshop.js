// The little script there is. Every page works without it; this makes some of them quicker.
(() => {
  "use strict";
  const root = document.documentElement;
  const said = () => document.getElementById("said");
  root.classList.add("js");

  // ---- What is said aloud: the same sentence twice in a row is said twice.
  function say(text) {
    const region = said();
    if (!region || !text) return;
    region.textContent = "";
    window.setTimeout(() => { region.textContent = text; }, 30);
  }

  function sayFrom(part) {
    const speaking = withSelf(part, "[data-say]").map((one) => one.dataset.say || one.textContent.trim());
    say(speaking.join(" "));
  }

  function withSelf(part, selector) {
    const found = [...part.querySelectorAll(selector)];
    return part.matches(selector) ? [part, ...found] : found;
  }

  // ---- Focus over a swap: an error note takes it; else it stays where it was; else the part's heading has it.
  function focusOn(element) {
    if (!element) return false;
    if (!element.matches("a[href], button, input, select, textarea, [tabindex]")) {
      element.setAttribute("tabindex", "-1");
    }
    element.focus();
    return document.activeElement === element;
  }

  function settleFocus(part) {
    if (focusOn(withSelf(part, "[data-focus]")[0])) return;
    const lost = !document.activeElement || document.activeElement === document.body;
    if (lost) focusOn(withSelf(part, "h1, h2, h3")[0]) || focusOn(document.getElementById("main"));
  }

  let settled = null;
  document.addEventListener("htmx:afterSettle", (event) => {
    const part = event.target;
    if (!(part instanceof Element)) return;
    if (settled) { settled.push(part); return; }
    settled = [part];
    queueMicrotask(() => {
      const parts = settled;
      settled = null;
      const asked = parts.find((one) => withSelf(one, "[data-focus]").length);
      const main = asked || parts.find((one) => one.closest("#main")) || parts[0];
      settleFocus(main);
      parts.forEach(sayFrom);
    });
  });

  // A part that was emptied or taken away leaves nothing to settle: look after the swap as well.
  document.addEventListener("htmx:afterRequest", () => {
    window.setTimeout(() => {
      if (document.activeElement === document.body) focusOn(document.getElementById("main"));
    }, 60);
  });

  // A whole page in answer to a request for a part (signed out meanwhile): open it as a page.
  document.addEventListener("htmx:beforeSwap", (event) => {
    const { xhr } = event.detail;
    if (xhr && event.detail.shouldSwap && /^\s*<!doctype html/i.test(xhr.responseText)) {
      event.detail.shouldSwap = false;
      window.location.assign(xhr.responseURL || window.location.href);
    }
  });

  // ---- Requests that failed: htmx is silent then, so say that nothing was saved, beside what was sent.
  function tellFailure(event, why) {
    const { elt, requestConfig } = event.detail;
    const reading = requestConfig && requestConfig.verb === "get";
    const words = document.body.dataset;
    const fact = reading ? words.notLoaded : words.notSaved;
    document.querySelectorAll(".note.is-failure").forEach((note) => note.remove());
    const note = document.createElement("div");
    note.className = "note is-red is-failure";
    note.setAttribute("role", "alert");
    const sentence = document.createElement("p");
    const first = document.createElement("strong");
    first.textContent = fact;
    sentence.append(first, ` ${why}`);
    note.append(sentence);
    const inPage = elt && elt.isConnected && elt.closest("#main");
    const form = inPage && (elt.closest("form") || elt);
    if (form && !form.parentElement.matches("ul, ol, tr, tbody, dl")) form.before(note);
    else document.getElementById("main").prepend(note);
    note.scrollIntoView({ block: "nearest" });
  }

  document.addEventListener("htmx:responseError", (event) => tellFailure(event, document.body.dataset.refused));
  document.addEventListener("htmx:sendError", (event) => tellFailure(event, document.body.dataset.noAnswer));
  document.addEventListener("htmx:timeout", (event) => tellFailure(event, document.body.dataset.noAnswer));
  document.addEventListener("htmx:beforeRequest", () => {
    document.querySelectorAll(".note.is-failure").forEach((note) => note.remove());
  });

  // ---- Buttons that fill a field with what would do.
  document.addEventListener("click", (event) => {
    const button = event.target.closest("button[data-fill]");
    const field = button && document.getElementById(button.dataset.for);
    if (!field) return;
    field.value = button.dataset.fill;
    field.dispatchEvent(new Event("input", { bubbles: true }));
    field.dispatchEvent(new Event("change", { bubbles: true }));
    field.focus();
  });

  // ---- Choices that send their form at once.
  document.addEventListener("change", (event) => {
    const field = event.target.closest("[data-auto-submit]");
    if (field && field.form) field.form.requestSubmit();
  });

  // ---- The second tap of a double tap on the sorting page would sort the sheet that came up meanwhile.
  document.addEventListener("click", (event) => {
    if (event.detail > 1 && event.target.closest("#pad button")) event.preventDefault();
  });

  // ---- A second send of the same plain form within 3 seconds is stopped. The server has its own protection.
  const PAUSE_MS = 3000;
  const sent = new Map();
  document.addEventListener("submit", (event) => {
    const form = event.target;
    const byHtmx = form.closest("[hx-post], [data-hx-post]") === form || (event.submitter && event.submitter.hasAttribute("hx-post"));
    if (form.method !== "post" || byHtmx || event.defaultPrevented) return;
    const now = Date.now();
    if (now - (sent.get(form) || 0) < PAUSE_MS) event.preventDefault();
    else sent.set(form, now);
  });
  window.addEventListener("pageshow", () => sent.clear());

  // ---- Keys on the sorting page. They can be switched off, and the choice is kept on this device.
  const KEYS_OFF = "keys-off";
  const keysOff = () => {
    try { return window.localStorage.getItem(KEYS_OFF) === "1"; } catch { return false; }
  };

  function showSwitch() {
    document.querySelectorAll("[data-key-switch]").forEach((box) => { box.checked = !keysOff(); });
  }

  document.addEventListener("change", (event) => {
    if (!event.target.matches("[data-key-switch]")) return;
    try { window.localStorage.setItem(KEYS_OFF, event.target.checked ? "0" : "1"); } catch { /* kept for this page */ }
  });

  document.addEventListener("keydown", (event) => {
    if (event.repeat || event.ctrlKey || event.metaKey || event.altKey || event.isComposing || event.key.length !== 1) return;
    const typing = event.target.closest("input:not([type=checkbox]), select, textarea, [contenteditable]");
    if (typing || keysOff()) return;
    const button = document.querySelector(`button[data-key="${CSS.escape(event.key.toLowerCase())}"]`);
    if (!button) return;
    event.preventDefault();
    button.click();
  });

  // ---- On load: an error note takes focus.
  function begin() {
    showSwitch();
    const note = document.querySelector("main [data-focus]");
    if (note) focusOn(note);
  }
  document.addEventListener("htmx:afterSettle", showSwitch);
  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", begin);
  else begin();
})();
