"use strict";

// What was signed while the service was away: kept in the browser's own database, sent once each
// with the key that its form had, and never dropped without a person.
const queue = (() => {
  const RETRY_MS = [1000, 2000, 5000, 10000, 15000];
  const database = new Promise((resolve, reject) => {
    const request = indexedDB.open("equiphase-bench", 1);
    request.onupgradeneeded = () => request.result.createObjectStore("signed", { autoIncrement: true });
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });

  const transaction = async (mode, work) => {
    const store = (await database).transaction("signed", mode).objectStore("signed");
    const request = work(store);
    return new Promise((resolve, reject) => {
      store.transaction.oncomplete = () => resolve(request.result);
      store.transaction.onerror = () => reject(store.transaction.error);
    });
  };

  const all = async () => {
    const keys = await transaction("readonly", (store) => store.getAllKeys());
    const items = await transaction("readonly", (store) => store.getAll());
    return items.map((item, i) => ({ ...item, id: keys[i] }));
  };
  const put = (item) => {
    const { id, ...kept } = item;
    return transaction("readwrite", (store) => store.put(kept, id));
  };
  const drop = (id) => transaction("readwrite", (store) => store.delete(id));

  let sending = false;
  let failures = 0;
  let timer = 0;
  let changed = () => {};

  const again = () => {
    clearTimeout(timer);
    timer = setTimeout(send, RETRY_MS[Math.min(failures, RETRY_MS.length - 1)]);
  };

  // A page with a sign-in form instead of the bench means that the session is over.
  const fresh = async () => {
    const answer = await fetch("/bench", { headers: { Accept: "text/html" } });
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const token = page.querySelector("meta[name=csrf-token]")?.content;
    const person = page.getElementById("work")?.dataset.person;
    if (!answer.ok || !token || !person) return null;
    document.querySelector("meta[name=csrf-token]").content = token;
    document.querySelectorAll("input[name=_csrf]").forEach((field) => (field.value = token));
    return { token, person, header: page.querySelector("meta[name=csrf-header]").content };
  };

  const send = async () => {
    if (sending) return;
    sending = true;
    try {
      const waiting = (await all()).filter((item) => !item.refused);
      if (waiting.length === 0) {
        const alive = await fetch("/actuator/health/readiness", { cache: "no-store" });
        if (!alive.ok) throw new Error("not ready");
        failures = 0;
        changed(true, null);
        return;
      }
      const session = await fresh();
      failures = 0;
      changed(true, session);
      if (!session) return;
      for (const item of waiting) {
        if (item.person !== session.person) continue;
        const body = new FormData();
        item.fields.forEach(([name, value]) => {
          if (name !== "_csrf") body.append(name, value);
        });
        const answer = await fetch(item.url, { method: "POST", body, headers: { [session.header]: session.token } });
        if (answer.status >= 500 || answer.status === 429) throw new Error(String(answer.status));
        const page = new DOMParser().parseFromString(await answer.text(), "text/html");
        // The first sending may have been stored, and its answer lost on the way.
        if ((answer.ok && page.getElementById("work")) || answer.headers.get("Idempotency-Key-Used")) {
          await drop(item.id);
          changed(true, session, { ...item, waits: page.getElementById("waits")?.textContent.trim() });
        } else if (answer.ok || answer.status === 401 || answer.status === 403) {
          changed(true, null);
          return;
        } else {
          const said = page.getElementById("said")?.textContent.trim() || page.querySelector("main")?.textContent.trim();
          await put({ ...item, refused: said || String(answer.status) });
          changed(true, session);
        }
      }
    } catch {
      failures += 1;
      changed(false, null);
      again();
    } finally {
      sending = false;
    }
  };

  return {
    all,
    drop,
    send,
    add: async (item) => {
      await transaction("readwrite", (store) => store.add(item));
      failures = 0;
      again();
    },
    onChange: (listener) => (changed = listener),
  };
})();
