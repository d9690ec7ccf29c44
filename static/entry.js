// Entry of readings one after the other: each is sent by itself with its own key while the next slot is armed at once.
// What could not be sent stays here, says so, and is sent again with the same key; nothing typed is lost while the page
// is open. Without this script the form posts itself and the server leads back with the next slot armed.
"use strict";
(() => {
  const AGAIN_AFTER = 2000;
  const form = () => document.querySelector("form[data-entry]");
  const field = () => form()?.elements.value;
  const stops = () => JSON.parse(document.getElementById("walk")?.dataset.walk || "[]");
  const shownPlace = () => document.getElementById("part-place").dataset.at;
  // A page that came back refused stands at the address its form was sent to.
  const sheet = /^\/jobs\/\d+\/sheets\/[^/]+/.exec(location.pathname)[0];
  const page = (query) => `${sheet}?${new URLSearchParams(query)}`;

  // Readings on their way, oldest first; what was typed for a slot and not entered; the newest reading known of a slot; the
  // value of a slot that was asked about, which is not asked about again.
  const queue = [];
  const drafts = new Map();
  const newest = new Map();
  const asked = new Map();
  let sending = false;

  const seen = (slot, saw) => Math.max(newest.get(slot) ?? 0, Number(saw) || 0) || "";
  // A slot that is read twice is open again once the server knows of its first reading.
  const isOpen = ({ slot, open, saw }) => open && (newest.get(slot) ?? 0) <= (Number(saw) || 0) && !queue.some((item) => item.slot === slot);

  function key() {
    return [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  }

  function element(tag, kind, ...inside) {
    const made = document.createElement(tag);
    made.className = kind;
    made.append(...inside);
    return made;
  }

  function button(words, act) {
    const made = element("button", "tap", words);
    made.type = "button";
    made.addEventListener("click", act);
    return made;
  }

  // ---- the walk

  const text = (interval) => (interval ? interval.join(" ") : "");

  // What is typed is compared with what the server knows of its slot now.
  function compareBy(stop) {
    Object.assign(field().dataset, {
      bare: stop.bare, bareFrom: text(stop.bare_from), plus: text(stop.deviation), accept: text(stop.accept), expect: text(stop.expect),
    });
  }

  function arm(stop) {
    const [armed, entry] = [form().elements, field()];
    drafts.set(armed.slot.value, entry.value);
    armed.slot.value = stop.slot;
    armed.saw.value = seen(stop.slot, stop.saw);
    armed.gauge.value = stop.gauge_id;
    entry.value = drafts.get(stop.slot) ?? "";
    drafts.delete(stop.slot);
    for (const shown of document.querySelectorAll("[data-armed]")) shown.textContent = stop[shown.dataset.armed];
    compareBy(stop);
    entry.removeAttribute("aria-invalid");
    document.getElementById(`${entry.id}-fault`)?.remove();
    for (const row of document.querySelectorAll(".slot")) row.classList.toggle("is-armed", row.id === `slot-${stop.slot}`);
    entry.dispatchEvent(new Event("input", { bubbles: true }));
    entry.focus();
    if (stop.at !== shownPlace()) refresh();
  }

  // The slot after this one, or the address where the sheet goes on when its route is read.
  function goOn(slot) {
    const all = stops();
    const at = all.findIndex((stop) => stop.slot === slot);
    const next = [...all.slice(at + 1), ...all.slice(0, at)].find(isOpen);
    if (next) arm(next);
    else field().dispatchEvent(new Event("input", { bubbles: true }));
  }

  function refresh(query = { slot: form()?.elements.slot.value ?? "" }, all = false) {
    const address = query.slot || query.at ? page(query) : location.href;
    history.replaceState(null, "", address);
    dispatchEvent(new CustomEvent("witness:parts", { detail: { address, all } }));
  }

  function visit(query) {
    if (field()?.value) drafts.set(form().elements.slot.value, field().value);
    refresh(query, true);
  }

  // ---- sending

  function enter(checked) {
    const { slot, saw, gauge } = form().elements;
    const words = [...form().querySelectorAll("[data-armed=place], [data-armed=label]")].map((part) => part.textContent).join(", ");
    const looks = document.getElementById("entry-looks").dataset.looks;
    const unseen = stops().find((stop) => stop.slot === slot.value)?.unseen;
    queue.push({ key: key(), slot: slot.value, saw: saw.value, gauge: gauge.value, value: field().value.trim(), words, looks, unseen, checked, state: "going" });
    field().value = "";
    goOn(slot.value);
    show();
    send();
  }

  async function send() {
    const item = queue.find(({ state }) => state === "going" || state === "unsent");
    if (sending || !item) return;
    sending = true;
    item.state = "going";
    try {
      const { key, slot, gauge, value, checked } = item;
      const body = new URLSearchParams({ key, slot, gauge, value, saw: seen(slot, item.saw), checked: !!checked, asked: asked.get(slot) ?? "" });
      const answer = await fetch(`${sheet}/readings`, { method: "POST", headers: { Accept: "application/json" }, body });
      if (answer.status >= 500) throw new Error("not kept");
      settle(item, await answer.json());
    } catch {
      item.state = "unsent";
      setTimeout(send, AGAIN_AFTER);
    }
    sending = false;
    show();
    if (item.state !== "unsent") send();
  }

  function settle(item, { took, number, next, question, said }) {
    if (took === "odd") {
      asked.set(item.slot, item.value);
      return Object.assign(item, { state: "odd", said: question });
    }
    if (took !== "kept" && took !== "rival") return Object.assign(item, { state: "refused", said });
    newest.set(item.slot, number);
    queue.splice(queue.indexOf(item), 1);
    const link = element("a", "plain", took === "kept" ? "Not right?" : "Choose");
    link.href = sheet.replace(/sheets\/.*/, `readings/${number}`);
    const words = took === "kept" ? `Kept: ${item.words}, ` : `Another tablet read ${item.words} too: `;
    document.getElementById("kept").replaceChildren(words, element("strong", "", item.unseen ? "covered until the second" : item.value), " ", link);
    if (queue.length) return undefined;
    const readOn = next || stops().length === 1 || stops().some(isOpen);
    return readOn ? refresh() : visit({ at: shownPlace() });
  }

  // ---- what is on its way, in its row; what needs somebody, in the tray

  const STATES = { going: "saving", unsent: "not saved yet", odd: "odd", refused: "not saved" };

  function again(item) {
    queue.splice(queue.indexOf(item), 1);
    if (item.state === "refused") drafts.set(item.slot, item.value);
    const stop = stops().find(({ slot }) => slot === item.slot);
    if (stop && form()) arm(stop);
    else visit({ slot: item.slot });
    show();
  }

  function keepAsRead(item) {
    item.state = "going";
    show();
    send();
  }

  function trayed(item) {
    const deeds = element("p", "deeds");
    if (item.state === "odd") deeds.append(button(`Keep ${item.value} as read`, () => keepAsRead(item)));
    if (item.state !== "unsent") deeds.append(button(item.state === "odd" ? "Read again" : "Type it again", () => again(item)));
    const said = item.said ?? "The shop's computer does not answer. It is sent again by itself; leave this page open.";
    const head = item.state === "odd" ? "Not kept yet. " : `${item.words}: ${item.value}, ${STATES[item.state]}. `;
    return element("li", `tray-${item.state}`, element("strong", "", head), said, deeds);
  }

  function show() {
    document.getElementById("tray")?.replaceChildren(...queue.filter(({ state }) => state !== "going").map(trayed));
    for (const mark of document.querySelectorAll(".unsaved")) mark.remove();
    const waiting = queue.some(({ state }) => state === "unsent");
    for (const { slot, value, state, looks } of queue) {
      const stands = STATES[state === "going" && waiting ? "unsent" : state];
      const words = state === "odd" ? `${value} looks odd` : `${value} ${looks ? `looks ${looks}, ` : ""}${stands}`;
      document.getElementById(`slot-${slot}`)?.querySelector(".slot-read").append(element("span", "unsaved", words));
    }
  }

  // ---- what is done on the page

  addEventListener("submit", (event) => {
    if (event.target !== form()) return;
    event.preventDefault();
    if (field().value.trim()) enter(event.submitter?.name === "checked");
    else field().focus();
  });

  // A gauge may end a reading with Tab.
  addEventListener("keydown", (event) => {
    if (event.key !== "Tab" || event.shiftKey || event.target !== field() || !field().value.trim()) return;
    event.preventDefault();
    form().requestSubmit();
  });

  addEventListener("click", (event) => {
    const sign = event.target.closest?.("[data-types]");
    if (sign && field()) {
      field().value = sign.dataset.types + field().value.replace(/^[+\-−]/, "");
      field().dispatchEvent(new Event("input", { bubbles: true }));
      field().focus();
      return;
    }
    const link = event.target.closest?.("[data-part] a");
    const address = link && new URL(link.getAttribute("href"), location.href);
    if (!address || address.pathname !== sheet || event.ctrlKey || event.metaKey) return;
    const query = Object.fromEntries(address.searchParams);
    if (query.round || !(query.at || query.slot)) return;
    event.preventDefault();
    const stop = form() && query.slot && stops().find(({ slot }) => slot === query.slot);
    if (stop) arm(stop);
    else visit(query);
  });

  addEventListener("witness:shown", ({ detail: { all } }) => {
    ready();
    show();
    const entry = field();
    const stop = entry && stops().find(({ slot }) => slot === form().elements.slot.value);
    if (stop) compareBy(stop);
    if (stop && entry.value) entry.dispatchEvent(new Event("input", { bubbles: true }));
    if (!all || !entry) return;
    entry.value = drafts.get(form().elements.slot.value) ?? entry.value;
    entry.dispatchEvent(new Event("input", { bubbles: true }));
    entry.focus();
  });

  addEventListener("beforeunload", (event) => {
    if (queue.length || field()?.value.trim()) event.preventDefault();
  });

  // What only a script can do is shown, and the plan of a long engine slid to where one is.
  function ready() {
    for (const sign of document.querySelectorAll("[data-types]")) sign.hidden = false;
    const plan = document.getElementById("part-plan");
    const [here, around] = [plan.querySelector("[aria-current]"), plan].map((element) => element?.getBoundingClientRect());
    if (here) plan.scrollLeft += here.x + here.width / 2 - around.x - around.width / 2;
  }
  ready();
})();
