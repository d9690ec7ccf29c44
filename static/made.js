// What several scripts make: a key that makes a post one act however often it is sent, and an element with what is in it.
"use strict";
const Made = {
  key: () => [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, "0")).join(""),
  element(tag, kind, ...inside) {
    const made = document.createElement(tag);
    made.className = kind;
    made.append(...inside);
    return made;
  },
};
