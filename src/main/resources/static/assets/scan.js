"use strict";

// Keyboard-wedge scanners type a serial and end it with Enter or Tab, wherever the cursor is.
// A scan is told from a person's typing by its pace and by letters in number fields.
(() => {
  const SCANNER_GAP_MS = 50;
  const LETTER_GAP_MS = 300;
  const SHORTEST_SERIAL = 4;
  const SHORTEST_DIGITS = 5;
  const IN_A_NUMBER = /^[-+0-9.,eE−–]$/;

  const serial = () => document.getElementById("serial");
  const isSerial = (field) => field?.id === "serial";
  const isText = (field) =>
    field?.matches?.("textarea, input:not([type=range], [type=checkbox], [type=radio], [type=file], [type=hidden], [type=submit])");
  const isNumber = (field) => isText(field) && field.inputMode === "decimal";

  let burst = { field: null, text: "", before: "", at: 0, held: false, letters: false };

  const toSerial = (text) => {
    const field = serial();
    if (!field) return;
    document.querySelector("dialog[open]")?.close();
    field.value = text;
    field.focus();
    field.setSelectionRange(text.length, text.length);
  };

  const submit = () => serial().form.requestSubmit();

  const restore = () => {
    if (isText(burst.field)) burst.field.value = burst.before;
    burst.field?.dispatchEvent(new Event("input", { bubbles: true }));
  };

  const forget = () => {
    burst = { field: null, text: "", before: "", at: 0, held: false, letters: false };
  };

  const printable = (event) => {
    const field = document.activeElement;
    const gap = event.timeStamp - burst.at;
    // The field went away with an answer in the middle of a scan; what came before is not lost.
    if (burst.field && !burst.field.isConnected && gap <= LETTER_GAP_MS) {
      event.preventDefault();
      toSerial(burst.text + event.key);
      forget();
      return;
    }
    if (burst.field !== field || gap > (burst.held ? LETTER_GAP_MS : SCANNER_GAP_MS)) {
      burst = { field, text: "", before: field.value ?? "", at: 0, held: false, letters: false };
    }
    burst.text += event.key;
    burst.at = event.timeStamp;
    if (isSerial(field)) return;
    if (!isText(field)) {
      if (event.key === " " || field?.matches?.("input[type=range]")) return;
      event.preventDefault();
      toSerial(event.key);
      return;
    }
    if (isNumber(field) && (burst.held || !IN_A_NUMBER.test(event.key))) {
      event.preventDefault();
      // One letter alone is a slip of the hand; a second in a scanner's pace is a serial number.
      if (burst.held) {
        restore();
        toSerial(burst.text);
        forget();
      } else {
        burst.held = true;
      }
    }
  };

  const ended = (event) => {
    const field = document.activeElement;
    if (isSerial(field)) {
      if (event.key === "Tab" && field.value.trim() !== "" && !event.shiftKey) {
        event.preventDefault();
        submit();
      }
      return;
    }
    const fast = burst.field === field && event.timeStamp - burst.at <= SCANNER_GAP_MS;
    const digits = /^\d+$/.test(burst.text) && burst.text.length >= SHORTEST_DIGITS;
    const words = !isNumber(field) && burst.text.length >= SHORTEST_SERIAL;
    if (fast && isText(field) && (digits || words)) {
      event.preventDefault();
      event.stopImmediatePropagation();
      restore();
      toSerial(burst.text);
      submit();
    }
    forget();
  };

  document.addEventListener(
    "keydown",
    (event) => {
      if (event.ctrlKey || event.altKey || event.metaKey || event.isComposing) return;
      if (event.key === "Enter" || event.key === "Tab") ended(event);
      else if (event.key.length === 1) printable(event);
    },
    true,
  );
})();
