// The search box: starts the worker at first use, shows what it answers. Words go in as text, never as markup.
"use strict";
(() => {
  const form = document.querySelector("form.search");
  if (!form) return;
  const box = form.querySelector("input"), panel = form.querySelector(".found");
  const said = panel.querySelector(".said"), list = panel.querySelector("ol");
  // Where nothing is found, the lists of the top lead on.
  const lists = Object.assign(document.createElement("p"), { className: "lists", hidden: true });
  lists.append(...[...document.querySelectorAll('.top nav a[href^="by-"]')].map((link) => link.cloneNode(true)));
  said.after(lists);
  const selects = [...panel.querySelectorAll("select")];
  const own = !form.closest("header");
  const folder = document.currentScript.src.replace(/[^/]*$/, "");
  const MOST = 40;
  let kept = null; // paths that this phone keeps; null where nothing is kept
  let worker = null, asked = 0, timer = 0, shown = { asked: 0, hits: [] };

  const tell = (words) => { said.textContent = words; };

  // The list of the service worker, read where it keeps it: a document that is not in it won't open without a connection.
  async function shelf() {
    const set = await (await caches.open("kilter-set")).match(new URL("../kept-set.json", folder));
    kept = set ? (await set.json()).files : null;
    if (kept) for (const link of list.querySelectorAll("a")) mark(link);
  }

  function mark(link) {
    const path = decodeURIComponent(new URL(link.href).pathname.split("/").pop());
    if (!kept || path in kept || link.querySelector("small")) return;
    link.append(Object.assign(document.createElement("small"), { textContent: kilterWord("search.not-kept") }));
  }

  function start() {
    if (worker) return;
    if (globalThis.caches) shelf().catch(() => {}); // a private window has none
    tell(kilterWord("search.loading"));
    try {
      worker = new Worker(folder + "search-worker.js");
      worker.onmessage = ({ data }) => answered(data);
      worker.onerror = failed;
      ask();
    } catch {
      worker = null;
      here();
    }
  }

  // Pages opened as files have no worker; some browsers have none at all.
  function here() {
    worker = { postMessage() {} };
    const script = Object.assign(document.createElement("script"), { src: folder + "search-here.js", onerror: failed });
    script.onload = () => {
      worker = kilterSearchHere(folder, answered);
      ask();
    };
    document.head.append(script);
  }

  function answered(data) {
    if (data.failed) failed();
    else if (data.choices) fill(data.choices);
    else if (data.asked === asked) show(data);
  }

  function failed() {
    tell(kilterWord("search.failed"));
  }

  function fill(choices) {
    for (const select of selects) {
      for (const name of choices[select.name]) select.add(new Option(name, name));
    }
  }

  function ask() {
    const [equipment, task] = selects.map((s) => s.value);
    worker?.postMessage({ asked: ++asked, words: box.value, equipment, task });
  }

  // A later answer to the same question adds below what is shown: nothing moves under a finger.
  function show({ asked: to, hits, total, words, loose, close, value, left, lacking }) {
    const name = (hit) => hit.address.split("#")[0], before = shown.asked === to ? shown.hits : [];
    const had = new Set(before.map(name)), more = hits.filter((hit) => !had.has(name(hit))).slice(0, MOST - before.length);
    if (!before.length) list.replaceChildren();
    list.append(...more.map(row));
    shown = { asked: to, hits: [...before, ...more] };
    Object.assign(panel.dataset, { answers: words, left });
    lists.hidden = Boolean(total || left || !words);
    tell(words ? told({ total, loose, close, value, left, lacking, some: shown.hits.length < total }) : kilterWord("search.start"));
  }

  function told({ total, loose, close, value, left, lacking, some }) {
    const gap = lacking.length > 3 ? kilterWord("search.lacking-many", { n: lacking.length }) : kilterWord("search.lacking", { names: lacking.join(", ") });
    if (left) return kilterWord(total ? "search.so-far" : "search.looking", { n: total });
    if (total === 0 && lacking.length) return `${kilterWord("search.none-here")} ${gap} ${kilterWord("search.try")}`;
    if (total === 0) return `${kilterWord(value ? "search.none-value" : "search.none")} ${kilterWord("search.try")}`;
    const said = [kilterCount("search.found", total)];
    if (loose) said.push(kilterWord("search.loose"));
    if (close) said.push(kilterWord("search.close"));
    if (some) said.push(kilterWord("search.first", { n: shown.hits.length }));
    return `${said.join(", ")}.${lacking.length ? ` ${gap}` : ""}`;
  }

  function row(hit) {
    const make = (name, words) => Object.assign(document.createElement(name), { textContent: words });
    const link = Object.assign(document.createElement("a"), { href: hit.address });
    link.append(make("b", [hit.number, hit.title].filter(Boolean).join(" ")));
    if (hit.symptom) link.append(make("em", hit.symptom));
    if (hit.place) link.append(make("em", kilterWord("search.at", { number: hit.place, words: hit.what })));
    const revision = hit.revision && kilterWord("search.revision", { revision: hit.revision });
    link.append(make("span", [hit.number && hit.equipment, hit.task, revision].filter(Boolean).join(", ")));
    const item = document.createElement("li");
    item.append(link);
    mark(link);
    return item;
  }

  function open(yes) { if (!own) panel.hidden = !yes; }

  box.addEventListener("focus", () => { open(true); start(); });
  box.addEventListener("input", () => { clearTimeout(timer); timer = setTimeout(ask, 25); });
  for (const select of selects) select.addEventListener("change", ask);
  form.addEventListener("keydown", (e) => {
    if (e.key === "Escape") { open(false); box.blur(); }
    if (e.key === "ArrowDown" && e.target === box) { list.querySelector("a")?.focus(); e.preventDefault(); }
  });
  document.addEventListener("focusin", (e) => { if (!form.contains(e.target)) open(false); });
  document.addEventListener("pointerdown", (e) => { if (!form.contains(e.target)) open(false); });
  if (own) {
    panel.hidden = false;
    box.value = new URLSearchParams(location.search).get("q") ?? "";
    form.addEventListener("submit", (e) => e.preventDefault());
    box.focus();
    start();
  }
})();
