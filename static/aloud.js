// Reads back aloud what was entered, where the browser can speak and somebody wants it: hands and eyes stay on the work.
"use strict";
(() => {
  const WANTED = "read back aloud";
  if (!("speechSynthesis" in window)) return;

  function ready() {
    const choice = document.querySelector("[data-aloud]");
    if (!choice) return;
    choice.closest("label").hidden = false;
    choice.checked = !!localStorage.getItem(WANTED);
    choice.addEventListener("change", () => {
      if (choice.checked) localStorage.setItem(WANTED, "yes");
      else localStorage.removeItem(WANTED);
    });
  }

  // Digit by digit: "2.525" is no "two and five hundred twenty-five".
  const spoken = (value) => value.replace(/[−-]/g, " minus ").replace(/\+/g, " plus ").replace(/[.,]/g, " point ").replace(/\d/g, " $& ");

  addEventListener("witness:entered", ({ detail: { words, value, looks } }) => {
    if (!localStorage.getItem(WANTED)) return;
    speechSynthesis.cancel();
    speechSynthesis.speak(new SpeechSynthesisUtterance(`${words}: ${spoken(value)}. ${looks && `looks ${looks}`}`));
  });
  addEventListener("witness:shown", ({ detail: { all } }) => all && ready());
  ready();
})();
