"use strict";

(() => {
  const texts = document.getElementById("texts").dataset;
  const alarm = document.getElementById("alarm");
  const waiting = document.getElementById("queue");
  const keyDialog = document.getElementById("keys");
  const work = () => document.getElementById("work");

  // Sounds: a low double buzz for what is wrong, one short high tone for what is stored.
  let audio = null;
  const tone = (hertz, fromS, lengthS) => {
    try {
      audio ??= new AudioContext();
      const wave = audio.createOscillator();
      const volume = audio.createGain();
      wave.type = hertz < 400 ? "square" : "sine";
      wave.frequency.value = hertz;
      volume.gain.value = 0.2;
      wave.connect(volume).connect(audio.destination);
      wave.start(audio.currentTime + fromS);
      wave.stop(audio.currentTime + fromS + lengthS);
    } catch {
      // Without sound the words and the colour remain.
    }
  };
  const sound = (kind) => {
    document.body.dataset.sounded = kind;
    if (kind === "wrong") {
      tone(180, 0, 0.25);
      tone(180, 0.35, 0.25);
    } else {
      tone(1200, 0, 0.08);
    }
  };

  const paragraph = (text) => {
    const p = document.createElement("p");
    p.textContent = text;
    return p;
  };
  const shout = (...lines) => {
    alarm.replaceChildren(...lines.map(paragraph));
    alarm.classList.add("loud");
    sound("wrong");
  };
  const hush = () => {
    alarm.replaceChildren();
    alarm.classList.remove("loud");
  };

  const focus = () => {
    // A scan that has begun meanwhile is not interrupted.
    if (document.getElementById("serial").value !== "") return;
    const field = work()?.querySelector("[data-focus]") ?? document.getElementById("serial");
    // What is said loudly stays in view, wherever the keyboard goes on.
    const said = document.querySelector("#said .alert, #alarm p");
    field?.focus({ preventScroll: said !== null });
    field?.select?.();
    said?.scrollIntoView({ block: "nearest" });
  };

  // What is typed outlives a reload and a power cut: kept per assembly until it is stored.
  const draftKey = (serial) => `draft:${work().dataset.person}:${serial}`;
  const draftFields = () => [...(document.getElementById("reading")?.querySelectorAll("input:not([type=hidden], [type=file])") ?? [])];
  const keepDraft = () => {
    const serial = document.querySelector("#reading input[name=serial]")?.value;
    if (!serial) return;
    const values = draftFields().map((field) => field.value);
    if (values.some((value) => value !== "")) localStorage.setItem(draftKey(serial), JSON.stringify(values));
    else localStorage.removeItem(draftKey(serial));
  };
  const restoreDraft = () => {
    const serial = document.querySelector("#reading input[name=serial]")?.value;
    const kept = serial && localStorage.getItem(draftKey(serial));
    if (!kept) return;
    const values = JSON.parse(kept);
    const fields = draftFields();
    if (values.length !== fields.length || fields.some((field) => field.value !== "")) return;
    fields.forEach((field, i) => (field.value = values[i]));
    document.getElementById("said").append(paragraph(texts.draft));
  };
  const forgetDraft = (serial) => localStorage.removeItem(draftKey(serial));

  // Enter goes on along the fields that every reading needs, and sends at the last of them.
  const onEnter = (event) => {
    const field = event.target;
    const form = field.form;
    if (event.key !== "Enter" || !form || field.id === "serial" || !field.matches("input, select")) return;
    if (event.defaultPrevented || !form.querySelector("[data-path]")) return;
    event.preventDefault();
    const path = [...form.querySelectorAll("[data-path]")];
    const here = path.indexOf(field);
    const next = here < 0
      ? path.find((other) => other.compareDocumentPosition(field) & Node.DOCUMENT_POSITION_PRECEDING)
      : path[here + 1];
    if (next) {
      next.focus();
      next.select?.();
    } else {
      form.requestSubmit();
    }
  };

  const keyOf = (event) => (event.shiftKey && event.key.startsWith("F") ? "Shift+" : "") + event.key;
  const act = (element) => {
    if (element.id === "serial") {
      hush();
      keyDialog.close();
      element.value = "";
      element.focus();
    } else if (element.matches("details")) {
      element.open = !element.open || !element.contains(document.activeElement);
      const first = element.open && element.querySelector("input:not([type=hidden]), select, button, a[href]");
      (first || element.querySelector("summary")).focus();
      if (element.open) element.scrollIntoView({ block: "nearest" });
    } else if (element.matches("select")) {
      element.focus();
    } else {
      element.click();
    }
  };
  const listKeys = () => {
    const rows = [...document.querySelectorAll("[data-key]")].map((element) => [element.dataset.key, element.dataset.keyName]);
    rows.sort((a, b) => a[0].replace("Shift+", "").localeCompare(b[0].replace("Shift+", ""), "en", { numeric: true }));
    document.getElementById("key-list").replaceChildren(
      ...rows.map(([key, name]) => {
        const row = document.createElement("tr");
        const head = document.createElement("th");
        head.scope = "row";
        const cap = document.createElement("kbd");
        cap.textContent = key;
        head.append(cap);
        const cell = document.createElement("td");
        cell.textContent = name;
        row.append(head, cell);
        return row;
      }),
    );
    keyDialog.showModal();
  };
  document.addEventListener(
    "keydown",
    (event) => {
      if (event.ctrlKey || event.altKey || event.metaKey) return;
      const inText = event.target.matches?.("input:not([inputmode=decimal], #serial), textarea");
      if (event.key === "F1" || (event.key === "?" && !inText)) {
        event.preventDefault();
        event.stopImmediatePropagation();
        if (keyDialog.open) keyDialog.close();
        else listKeys();
        return;
      }
      const wanted = keyOf(event);
      const element = [...document.querySelectorAll("[data-key]")].find((e) => e.dataset.key === wanted);
      if (!element) return;
      event.preventDefault();
      act(element);
    },
    true,
  );
  document.addEventListener("keydown", onEnter);
  document.addEventListener("click", (event) => {
    if (event.target.closest("[data-keys]")) listKeys();
  });
  document.addEventListener("input", (event) => {
    if (event.target.closest("#reading")) keepDraft();
  });

  const knownMember = (serial) =>
    [...document.querySelectorAll("#known li")].find((li) => li.dataset.serial === serial);

  // Whether a member's sheet is of another revision than the page knows of.
  const isOldSheet = (code) => {
    const [serial, revision] = code.split("/");
    return revision !== undefined && knownMember(serial) !== undefined
      && revision !== document.getElementById("known").dataset.revision;
  };

  // A step that was scanned is kept with the key that it was sent with, for the answer alone may be lost.
  const keepStep = async (code, key) => {
    const at = new Date().toISOString();
    await queue.add({
      url: "/bench/steps",
      what: `${texts.step} ${code}`,
      serial: code.split("/")[0],
      person: work().dataset.person,
      at,
      fields: [["idempotencyKey", key], ["code", code], ["doneAt", at]],
    });
    hush();
    taken();
    await showQueue(false, null);
    sound("stored");
    document.getElementById("serial").focus();
  };

  // A scan that the service can't look up is taken from what the page knows of the set.
  const offlineSelect = (code) => {
    const serial = code.split("/")[0];
    const known = knownMember(serial);
    const form = document.getElementById("reading");
    const old = isOldSheet(code);
    if (!known || !form || old) {
      shout(`${code} ${old ? texts.oldOffline : texts.unknownOffline}`, texts.offline);
      taken();
      document.getElementById("serial").focus();
      return;
    }
    hush();
    keepDraft();
    work().dataset.serial = serial;
    document.querySelector(".about").replaceChildren(Object.assign(document.createElement("strong"), { className: "serial", textContent: serial }), ` ${known.dataset.position}`);
    const panel = document.querySelector(".instruction");
    panel.className = "instruction kind-measure";
    panel.replaceChildren(Object.assign(document.createElement("span"), { className: "action", textContent: texts.offlineMeasure }));
    document.querySelectorAll(".signoff, .void, .reason, .why, .charts").forEach((element) => element.remove());
    form.querySelector("input[name=serial]").value = serial;
    form.querySelector("input[name=seenReadingId]").value = known.dataset.seen;
    form.querySelector("input[name=idempotencyKey]").value = freshKey();
    form.dataset.queue = form.dataset.queue.replace(/\S+$/, serial);
    draftFields().forEach((field) => (field.value = ""));
    restoreDraft();
    taken();
    form.querySelector("[data-path]").focus();
  };

  const keepSigned = async (form, parameters) => {
    const fields = [...parameters.entries()].filter(([, value]) => !(value instanceof File) || value.size > 0);
    const value = (name) => fields.find(([n]) => n === name)?.[1] ?? "";
    if (form.matches("#reading") || form.querySelector("[name=frequencyMhz]")) {
      fields.push(["takenAt", new Date().toISOString()]);
      if (value("temperatureC") === "") {
        const i = fields.findIndex(([name]) => name === "temperatureC");
        if (i >= 0) fields.splice(i, 1);
        fields.push(["temperatureC", form.dataset.benchTemperature]);
      }
    }
    if (form.matches(".signoff, .step")) fields.push(["doneAt", new Date().toISOString()]);
    await queue.add({
      url: form.getAttribute("action"),
      what: form.dataset.queue,
      serial: value("serial"),
      person: work().dataset.person,
      at: new Date().toISOString(),
      fields,
    });
    if (form.matches("#reading")) {
      forgetDraft(value("serial"));
      draftFields().forEach((field) => (field.value = ""));
      form.querySelector("input[name=idempotencyKey]").value = freshKey();
    } else {
      form.remove();
    }
    await showQueue(false, null);
    sound("stored");
    document.getElementById("serial").focus();
  };

  const isDown = (xhr) => [0, 502, 503, 504].includes(xhr.status);
  const down = (event) => {
    document.getElementById("problems")?.replaceChildren();
    const { elt, formData: parameters } = event.detail.requestConfig;
    const form = elt.closest("form");
    if (form?.dataset.queue) {
      keepSigned(form, parameters);
    } else if (form?.id === "scan" || elt.matches("a[hx-get]")) {
      const code = (form ? (parameters.get("serial") ?? parameters.get("code")) : new URL(elt.href).searchParams.get("serial")).trim();
      if (STEP.test(code) && !isOldSheet(code)) {
        keepStep(code, event.detail.requestConfig.headers["Idempotency-Key"]);
      } else {
        offlineSelect(code);
        queue.send();
      }
    } else {
      shout(texts.offline);
      queue.send();
    }
  };
  for (const name of ["htmx:sendError", "htmx:timeout"]) document.addEventListener(name, down);

  // A step of a sheet is signed off as it is scanned.
  const STEP = /^[^\/\s]+\/[A-Za-z]+\/\d+$/;
  document.addEventListener("htmx:configRequest", (event) => {
    const request = event.detail;
    const code = document.getElementById("serial").value.trim();
    if (request.elt.id !== "scan" || !STEP.test(code)) return;
    request.verb = "post";
    request.path = "/bench/steps";
    request.useUrlParams = false;
    request.headers["Content-Type"] = "application/x-www-form-urlencoded";
    request.headers["Idempotency-Key"] = freshKey();
    delete request.parameters.serial;
    request.parameters.code = code;
  });

  // The last good state stays unless the answer is a bench page of its own.
  let setBefore = "";
  let asked = "";
  document.addEventListener("htmx:beforeRequest", (event) => {
    if (event.detail.elt.id === "scan") asked = document.getElementById("serial").value;
  });
  const taken = () => {
    const field = document.getElementById("serial");
    if (field.value === asked) field.value = "";
    asked = "";
  };
  document.addEventListener("htmx:beforeSwap", (event) => {
    const { xhr, target } = event.detail;
    const { elt } = event.detail.requestConfig;
    // Whoever has scanned or typed on meanwhile is not taken back.
    if (elt.id === "queue" && (work().dataset.serial !== refreshing || typing())) {
      event.detail.shouldSwap = false;
      return;
    }
    if (target.id !== "work") return;
    const page = new DOMParser().parseFromString(xhr.responseText, "text/html");
    const said = page.getElementById("said")?.textContent.trim();
    if (!page.getElementById("work")) {
      event.detail.shouldSwap = false;
      // A bench page with such a status is the service's own word: an instrument did not answer.
      if (isDown(xhr)) {
        down(event);
        return;
      }
      if (page.querySelector("form input[type=password]")) shout(texts.signIn);
      else shout(page.querySelector("main")?.textContent.trim() || texts.failed);
      focus();
      return;
    }
    const wrongSerial = [400, 404, 409].includes(xhr.status) && (elt.id === "scan" || elt.matches("a"));
    if (wrongSerial) {
      event.detail.shouldSwap = false;
      shout(said);
      taken();
      document.getElementById("serial").focus();
      return;
    }
    hush();
    if (elt.id === "scan") taken();
    if (xhr.status >= 400) {
      sound("wrong");
    } else if (elt.dataset.queue || event.detail.requestConfig.path === "/bench/steps") {
      sound("stored");
      if (elt.id === "reading") forgetDraft(elt.querySelector("input[name=serial]").value);
    }
    setBefore = xhr.status < 400 && elt.id === "scan" ? work().dataset.set : "";
  });

  const settled = () => {
    const set = work().dataset;
    if (setBefore && set.set && setBefore !== set.set) {
      shout(`${set.serial}: ${texts.otherSet} ${set.setName}`);
    }
    setBefore = "";
    restoreDraft();
    focus();
  };
  document.addEventListener("htmx:afterSettle", (event) => {
    if (event.detail.target?.id === "work" || event.target.id === "work") settled();
  });

  const LAST_SENT = 20;
  const done = [];
  const showQueue = async (online, session, sent) => {
    document.body.classList.toggle("offline", !online);
    const items = await queue.all();
    const lines = [];
    if (!online) lines.push(paragraph(texts.offline));
    if (online && items.some((item) => !item.refused) && !session) lines.push(paragraph(texts.signIn));
    if (sent) done.push(`✓ ${sent.what}: ${texts.sent}${sent.waits ? " – " + sent.waits : ""}`);
    for (const line of done.slice(-LAST_SENT)) lines.push(paragraph(line));
    const list = document.createElement("ul");
    for (const item of items) {
      const line = document.createElement("li");
      line.dataset.what = item.what;
      if (item.refused) {
        line.className = "refused";
        line.append(`${texts.refused} ${item.what}, ${item.person}, ${item.at.slice(11, 16)} UTC: ${item.refused} `);
        if (item.serial) {
          const look = document.createElement("a");
          look.className = "button second";
          look.href = `/bench?serial=${encodeURIComponent(item.serial)}`;
          look.textContent = texts.show;
          line.append(look, " ");
        }
        const button = document.createElement("button");
        button.type = "button";
        button.className = "danger";
        button.textContent = texts.drop;
        button.addEventListener("click", async () => {
          await queue.drop(item.id);
          showQueue(online, session);
          document.getElementById("serial").focus();
        });
        line.append(button);
      } else {
        line.textContent = `${session && item.person !== session.person ? texts.otherPerson + " " + item.person : texts.queued} ${item.what}`;
      }
      list.append(line);
    }
    if (items.length > 0) lines.push(list);
    if (items.some((item) => item.refused) && sent === undefined && session) sound("wrong");
    waiting.replaceChildren(...lines);
    waiting.hidden = lines.length === 0;
    // What was sent may have changed the instruction on the screen.
    if (sent && items.filter((item) => !item.refused).length === 0) refresh();
  };
  queue.onChange(showQueue);
  addEventListener("online", () => queue.send());

  let refreshing = "";
  const typing = () => draftFields().some((field) => field.value !== "");
  const refresh = () => {
    refreshing = work().dataset.serial;
    if (typing() || !refreshing) return;
    htmx.ajax("GET", `/bench?serial=${encodeURIComponent(refreshing)}`, { source: "#queue", target: "#work", select: "#work", swap: "outerHTML" });
  };

  // Many at once go through the queue, one by one, so that a bad one doesn't hold up the rest.
  const keepFile = (form, file) =>
    queue.add({
      url: form.getAttribute("action"),
      what: `${form.dataset.queue} ${file.name}`,
      serial: "",
      person: work().dataset.person,
      at: new Date().toISOString(),
      fields: [
        ["idempotencyKey", freshKey()],
        ["benchId", form.querySelector("[name=benchId]").value],
        ["takenAt", new Date(file.lastModified).toISOString()],
        ["file", file],
      ],
    });

  // Files dropped anywhere on the page.
  document.addEventListener("dragover", (event) => {
    event.preventDefault();
    document.body.classList.add("dropping");
  });
  document.addEventListener("dragleave", (event) => {
    if (!event.relatedTarget) document.body.classList.remove("dropping");
  });
  document.addEventListener("drop", (event) => {
    event.preventDefault();
    document.body.classList.remove("dropping");
    const files = event.dataTransfer.files;
    const form = document.getElementById("drop");
    if (!form || files.length === 0) return;
    if (files.length === 1) {
      form.querySelector("input[type=file]").files = files;
      form.querySelector("input[name=takenAt]").value = new Date(files[0].lastModified).toISOString();
      form.requestSubmit();
    } else {
      [...files].reduce((before, file) => before.then(() => keepFile(form, file)), Promise.resolve()).then(() => queue.send());
    }
  });

  htmx.config.timeout = 20000;
  restoreDraft();
  focus();
  queue.send();
})();
