// Figures: a tap on an item of the list shows it in the picture, a tap on a number shows it in the list.
// Without this the figure is whole: numbers, leaders and list.
"use strict";

function show(figure, number) {
  const now = figure.dataset.shown === number ? "" : number;
  figure.dataset.shown = now;
  for (const part of figure.querySelectorAll("[data-item]")) {
    const on = part.dataset.item === now;
    part.classList.toggle("on", on);
    (part.querySelector("button") || part).setAttribute("aria-pressed", String(on));
  }
  return now !== "";
}

function pressed(event) {
  const part = event.target.closest("figure [data-item]");
  if (!part || String(getSelection())) return;
  const figure = part.closest("figure");
  if (!show(figure, part.dataset.item)) return;
  const other = part.closest(".items") ? ".picture" : ".items .on";
  (part.closest(".half") || figure).querySelector(other).scrollIntoView({ block: "nearest" });
}

function typed(event) {
  const figure = event.target.closest("figure");
  if (!figure) return;
  if (event.key === "Escape" && figure.dataset.shown) show(figure, figure.dataset.shown);
  const number = event.target.closest("g[data-item]");
  if (number && (event.key === "Enter" || event.key === " ")) {
    event.preventDefault();
    pressed(event);
  }
}

function button(entry) {
  if (entry.querySelector("button")) return;
  const made = document.createElement("button");
  made.type = "button";
  made.setAttribute("aria-pressed", "false");
  made.append(...entry.childNodes);
  entry.append(made);
}

function ready() {
  for (const figure of document.querySelectorAll("figure")) {
    const words = {};
    for (const entry of figure.querySelectorAll(".items [data-item]")) {
      words[entry.dataset.item] = entry.textContent.trim();
      button(entry);
    }
    for (const item of figure.querySelectorAll(".marks [data-item]:not([role])")) {
      const said = { role: "button", tabindex: "0", "aria-pressed": "false", "aria-label": words[item.dataset.item] };
      for (const name in said) item.setAttribute(name, said[name]);
    }
    for (const marks of figure.querySelectorAll(".marks")) marks.removeAttribute("aria-hidden");
  }
}

ready();
document.addEventListener("click", pressed);
document.addEventListener("keydown", typed);
document.addEventListener("kilter:renewed", ready);
