// Entry of readings one after the other: each is sent by itself with its own key while the next slot is armed at once.
// Without this script the form posts itself and the server leads back with the next slot armed.
"use strict";
(() => {
  const { sheet, form, field } = Walk;
  const readings = sheet.replace(/sheets\/.*/, "readings");

  function enter(checked) {
    const [value, slot] = [field().value.trim(), Walk.armed()];
    const words = [...form().querySelectorAll("[data-armed=place], [data-armed=label]")].map((part) => part.textContent).join(", ");
    const fields = { slot, value, checked: !!checked, saw: Walk.seen(slot, form().elements.saw.value), gauge: form().elements.gauge.value };
    const looks = Looks.of(field());
    field().value = "";
    const item = Unsent.add({
      to: `${sheet}/readings`, sheet, slot, value, words, looks, fields,
      unseen: Walk.stop(slot)?.unseen, after: Walk.onItsWay(slot).at(-1)?.key ?? "",
    });
    dispatchEvent(new CustomEvent("witness:entered", { detail: item }));
    Walk.goOn(slot);
  }

  // Takes the last reading back and arms its slot: one that is not sent yet never is, of another the server is told.
  function undo(last) {
    const waiting = Unsent.all().find(({ key }) => key === last.key);
    if (waiting && (waiting.tries === 0 || waiting.state !== "going")) Unsent.drop(last.key);
    else {
      const after = waiting ? last.key : "";
      const to = after ? readings : `${readings}/${last.number}/withdraw`;
      Unsent.add({ to, sheet, slot: last.slot, value: last.value, words: last.words, undoes: true, saw: last.fields.saw, after, fields: {} });
    }
    if (last.number) Walk.undone.add(last.number);
    Walk.newest.set(last.slot, Number(last.fields.saw) || 0);
    Walk.visit({ slot: last.slot });
  }

  // Where the walk ends, the server says how the sheet goes on.
  function follow() {
    if (Walk.armed() || Walk.stops().some(Walk.isOpen)) Walk.refresh();
    else Walk.rest();
  }

  addEventListener("witness:settled", ({ detail: { item, answer } }) => {
    if (item.sheet !== sheet) return;
    if (answer.took === "kept" || answer.took === "rival") Walk.newest.set(item.slot, answer.number);
    if (answer.took === "odd" || answer.took === "refused") return;
    if (Unsent.all().some((other) => other.sheet === sheet && other.state === "going")) return;
    Walk.soon(follow);
  });

  addEventListener("submit", (event) => {
    if (event.target !== form()) return;
    event.preventDefault();
    if (field().value.trim()) enter(event.submitter?.name === "checked");
    else field().focus();
  });

  addEventListener("witness:undo", ({ detail }) => undo(detail));

  addEventListener("click", (event) => {
    const link = event.target.closest?.("[data-part] a");
    const address = link && new URL(link.getAttribute("href"), location.href);
    if (!address || address.pathname !== sheet || event.ctrlKey || event.metaKey) return;
    const query = Object.fromEntries(address.searchParams);
    if (query.round || !(query.at || query.slot)) return;
    event.preventDefault();
    Walk.visit(query);
  });

  addEventListener("beforeunload", (event) => {
    if (field()?.value.trim()) event.preventDefault();
  });
})();
