// Readings on their way. Each is kept on this tablet first and leaves it only when the server says what became of it, so
// that a page closed, a tablet restarted or a wireless gone loses none. Each bears its own key from the first try: sent
// twice, it is one. Any page of the shop sends what lies here; who wants to know listens for "witness:unsent" and for
// "witness:settled". What one waits for (an undo for the number of its reading, a second reading of a slot for what it
// saw) is named in `after`.
"use strict";
const Unsent = (() => {
  const SHELF = "reading ";
  const PATIENCE = 10_000;
  const A_MOMENT = 30;
  const [SOON, LATE] = [250, 4000];
  let wait = SOON;
  let sending = false;
  let timer;

  const say = (name, detail) => dispatchEvent(new CustomEvent(`witness:${name}`, { detail }));

  // Where the tablet gives a page no room to keep anything, it lies here as long as the page is open.
  const loose = new Map();
  // What lies here, as this page knows it; none when another page may have changed it.
  let known;

  // All that lies here, in the order it was typed.
  function all() {
    if (known) return known;
    const names = Object.keys(localStorage).filter((name) => name.startsWith(SHELF));
    const shelved = names.map((name) => JSON.parse(localStorage.getItem(name))).filter(Boolean);
    known = [...shelved, ...loose.values()].sort((a, b) => a.nth - b.nth);
    return known;
  }

  const find = (key) => all().find((item) => item.key === key);

  function keep(item) {
    known = undefined;
    try {
      localStorage.setItem(SHELF + item.key, JSON.stringify(item));
    } catch {
      loose.set(item.key, item);
    }
  }

  function change(key, changes) {
    const item = find(key);
    if (item) keep({ ...item, ...changes });
  }

  function remove(key) {
    known = undefined;
    localStorage.removeItem(SHELF + key);
    loose.delete(key);
  }

  // Takes away what is not to be sent. What waited for it waits no longer; its undo goes with it.
  function drop(key) {
    const saw = find(key)?.fields.saw ?? "";
    remove(key);
    for (const other of all().filter(({ after }) => after === key)) {
      if (other.undoes) remove(other.key);
      else change(other.key, { after: "", fields: { ...other.fields, saw } });
    }
    say("unsent");
    send();
  }

  // Lays something here and sends it: `to` is the address, `fields` what is posted beside the key.
  function add(item) {
    const nth = Math.max(0, ...all().map((other) => other.nth)) + 1;
    const kept = { key: Made.key(), nth, state: "going", tries: 0, ...item };
    keep(kept);
    say("unsent");
    // First the page shows what was typed.
    setTimeout(send, A_MOMENT);
    return kept;
  }

  // Sends one again that waited for a person, with what he decided.
  function decide(key, fields) {
    change(key, { state: "going", fields: { ...find(key)?.fields, ...fields } });
    say("unsent");
    send();
  }

  async function post({ key, to, fields }) {
    const given = new AbortController();
    const late = setTimeout(() => given.abort(), PATIENCE);
    try {
      const body = new URLSearchParams({ ...fields, key });
      const answer = await fetch(to, { method: "POST", headers: { Accept: "application/json" }, body, signal: given.signal });
      // A tablet that has to be let in again hands its readings over then.
      if (answer.status >= 500 || answer.status === 401 || answer.redirected) throw new Error("not kept");
      return { took: "refused", ...(await answer.json()) };
    } finally {
      clearTimeout(late);
    }
  }

  async function send() {
    known = undefined;
    const item = all().find(({ state, after }) => state === "going" && !after);
    if (sending || !item) return;
    sending = true;
    clearTimeout(timer);
    let answer;
    try {
      change(item.key, { tries: item.tries + 1 });
      answer = await post(item);
    } catch {
      // No answer says nothing of whether it was kept: sent again with the same key, it is kept once.
    }
    sending = false;
    if (answer) {
      wait = SOON;
      settle(item, answer);
      send();
    } else {
      timer = setTimeout(send, wait);
      wait = Math.min(2 * wait, LATE);
      say("unsent");
    }
  }

  function settle(item, answer) {
    const { took, number, said, question } = answer;
    // Another page may have had the answer first, and a person decided since.
    known = undefined;
    const now = find(item.key);
    if (!now || JSON.stringify(now.fields) !== JSON.stringify(item.fields)) return;
    const waiting = all().filter(({ after }) => after === item.key);
    if (item.undoes && took === "refused") remove(item.key);
    else if (took === "odd" || took === "refused") {
      if (waiting.some(({ undoes }) => undoes)) return drop(item.key);
      change(item.key, { state: took, said: question ?? said });
    } else {
      for (const other of waiting) follow(other, item, number);
      remove(item.key);
    }
    say("settled", { item, answer });
    say("unsent");
  }

  // What waited for a reading that is now kept, or taken back.
  function follow(other, item, number) {
    if (other.undoes) change(other.key, { after: "", to: `${other.to}/${number}/withdraw` });
    else change(other.key, { after: "", fields: { ...other.fields, saw: item.undoes ? item.saw : number } });
  }

  addEventListener("online", send);
  addEventListener("storage", ({ key }) => {
    if (!key?.startsWith(SHELF)) return;
    known = undefined;
    say("unsent");
  });
  addEventListener("DOMContentLoaded", send);
  return { all, add, decide, drop, send };
})();
