// The panel "Display" in the head of every page: colours, contrast, text size, hand. boot.js applies what is chosen.
"use strict";
(() => {
  const panel = document.querySelector(".display");
  if (!panel) return;
  const form = panel.querySelector("form");
  const fields = [...form.elements].filter((field) => field.name);

  function show() {
    const now = kilterDisplay.now();
    for (const field of fields) {
      if (field.type === "checkbox") field.checked = now[field.name] === field.value;
      else field.value = now[field.name] ?? "";
    }
  }

  function chosen() {
    const value = (field) => field.type === "checkbox" && !field.checked ? "" : field.value;
    return Object.fromEntries(fields.map((field) => [field.name, value(field)]).filter(([, said]) => said));
  }

  function close(event) {
    if (panel.open && !panel.contains(event.target)) panel.open = false;
  }

  panel.addEventListener("toggle", show);
  form.addEventListener("change", () => kilterDisplay.keep(chosen()));
  form.addEventListener("submit", (event) => event.preventDefault());
  panel.addEventListener("keydown", (event) => {
    if (event.key !== "Escape" || !panel.open) return;
    panel.open = false;
    panel.querySelector("summary").focus();
  });
  document.addEventListener("focusin", close);
  document.addEventListener("pointerdown", close);
})();
