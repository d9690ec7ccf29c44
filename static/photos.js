// Photos are kept as soon as they are chosen or taken: nothing waits in a page that a camera may push out of memory.
// Without this script, the button below does it.
for (const form of document.querySelectorAll("form[data-keeps-photos]")) {
  form.addEventListener("change", (event) => {
    if (event.target.type !== "file" || event.target.files.length === 0) return;
    form.querySelector("[data-said]").hidden = false;
    form.requestSubmit();
  });
}
