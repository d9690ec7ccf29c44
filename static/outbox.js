// What is sent from here: photos, other files and notes. Each is kept on this tablet first, with a key that makes it one
// act however often it is sent, and leaves it when the server has it. What could not be sent says so and is sent again by
// itself, from any page of the shop. Without this script, the forms post themselves.
"use strict";
(() => {
  const AGAIN_AFTER = 3000;
  const { element } = Made;

  // ---- kept on this tablet

  const opened = new Promise((kept, failed) => {
    const asked = indexedDB.open("witnessmark", 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore("outbox", { keyPath: "id", autoIncrement: true });
    asked.onsuccess = () => kept(asked.result);
    asked.onerror = () => failed(asked.error);
  });
  opened.catch(() => {});

  async function outbox(mode, act) {
    const turn = (await opened).transaction("outbox", mode);
    const asked = act(turn.objectStore("outbox"));
    return new Promise((done, failed) => {
      turn.oncomplete = () => done(asked.result);
      turn.onabort = () => failed(turn.error);
    });
  }

  const all = () => outbox("readonly", (items) => items.getAll());
  const keep = (item) => outbox("readwrite", (items) => items.put(item));
  const drop = ({ id }) => outbox("readwrite", (items) => items.delete(id));

  // ---- sending

  // The item that its page waits for, to go on when it is kept.
  let awaited = "";
  let answering = true;
  let sending = false;

  function body({ fields, file }) {
    if (!file) return new URLSearchParams(fields);
    const form = new FormData();
    for (const [name, value] of fields) form.append(name, value);
    form.append(file.field, file.blob, file.name);
    return form;
  }

  async function sendOne(item) {
    try {
      await item.file?.blob.slice(0, 1).arrayBuffer();
    } catch {
      return keep({ ...item, said: "It is no longer on this tablet: take it again." });
    }
    const answer = await fetch(item.action, { method: "POST", headers: { Accept: "application/json" }, body: body(item) });
    // A tablet that has to be let in again hands over what it holds then.
    if (answer.status === 401 || answer.redirected) throw new Error("not let in");
    const { took, next, said } = await answer.json();
    if (answer.status >= 500) throw new Error(said);
    if (took !== "kept") return keep({ ...item, said: said || "It was refused." });
    await drop(item);
    if (item.key === awaited) return location.assign(next);
    return isShown() && dispatchEvent(new CustomEvent("witness:parts", { detail: { address: location.href } }));
  }

  async function send() {
    if (sending) return;
    sending = true;
    try {
      for (let item; (item = (await all()).find(({ said }) => !said)); await show()) await sendOne(item);
      answering = true;
    } catch {
      answering = false;
      setTimeout(send, AGAIN_AFTER);
    }
    sending = false;
    await show();
  }

  // ---- what waits, on the page

  function refused(item) {
    const away = element("button", "tap", "Throw it away");
    away.addEventListener("click", async () => {
      await drop(item);
      await show();
    });
    return element("li", "tray-refused", element("strong", "", `${item.words}: not kept. `), item.said, element("p", "deeds", away));
  }

  // A page that takes photos or notes in has a place for what waits; others only count it.
  const isShown = () => !!document.getElementById("outbox");

  async function show() {
    const items = await all().catch(() => []);
    const asking = items.filter(({ said }) => said);
    const detail = { owed: answering ? asking.length : items.length, at: asking[0]?.action };
    dispatchEvent(new CustomEvent("witness:outbox", { detail }));
    if (!isShown()) return;
    const waiting = items.filter(({ said }) => !said);
    const words = answering ? "Sending …" : "The shop's computer does not answer. Kept on this tablet, and sent again by itself.";
    const count = element("p", "said", element("strong", "", `${waiting.length} not yet sent. `), words);
    count.setAttribute("role", "status");
    const box = document.getElementById("outbox");
    box.hidden = !items.length;
    box.replaceChildren(...(waiting.length ? [count] : []), element("ul", "tray", ...asking.map(refused)));
  }

  // ---- what is done on the page

  const texts = (form) => [...new FormData(form)].filter(([name, value]) => typeof value === "string" && name !== "key");

  async function put(form, file, words) {
    const made = Made.key();
    const item = { key: made, action: form.getAttribute("action"), fields: [["key", made], ...texts(form)], words };
    const longest = Number(form.dataset.longest);
    if (file?.blob.size > longest) item.said = `It is longer than ${longest / 1e6} MB.`;
    else if (file) item.file = file;
    await keep(item);
    return made;
  }

  function clear(form) {
    for (const field of form.querySelectorAll("input:not([type=hidden]), textarea")) field.value = "";
  }

  for (const form of document.querySelectorAll("form[data-sends]")) {
    const files = form.querySelector("[type=file]");
    form.classList.add("scripted");
    for (const hand of form.querySelectorAll("[data-unscripted]")) hand.hidden = true;
    form.addEventListener("change", async ({ target }) => {
      if (target.type !== "file") return;
      try {
        for (const blob of target.files) await put(form, { field: target.name, blob, name: blob.name }, blob.name);
      } catch {
        form.submit();
        return;
      }
      clear(form);
      await show();
      send();
    });
    form.addEventListener("submit", async (event) => {
      if (files) {
        event.preventDefault();
        return;
      }
      const written = texts(form).some(([name, value]) => value.trim() && form.elements[name].type !== "hidden");
      if (!written) return;
      event.preventDefault();
      try {
        const made = await put(form, undefined, "The note");
        if ("leaves" in form.dataset) awaited = made;
      } catch {
        form.submit();
        return;
      }
      clear(form);
      await show();
      send();
    });
  }
  addEventListener("online", send);
  show();
  send();
})();
