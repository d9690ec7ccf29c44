// Text being typed outlives a page that the tablet throws out of memory, or that somebody leaves for another.
// It is kept by job and form, holds nothing else, and goes when the form is sent. Without this script, it does not.
const written = "input[type=text], input[type=tel], textarea";

for (const form of document.querySelectorAll("form[data-draft]")) {
  const name = `draft ${form.dataset.draft}`;
  const fields = [...form.querySelectorAll(written)];
  // A refused form comes back with its text: that is newer than any draft.
  if (fields.every((field) => field.value === "")) {
    const draft = JSON.parse(localStorage.getItem(name) ?? "{}");
    for (const field of fields) field.value = draft[field.name] ?? "";
  }
  form.addEventListener("input", () => {
    localStorage.setItem(name, JSON.stringify(Object.fromEntries(fields.map((field) => [field.name, field.value]))));
  });
  form.addEventListener("submit", () => localStorage.removeItem(name));
}
