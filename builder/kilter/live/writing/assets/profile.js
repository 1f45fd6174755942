// The form for a machine: one section for each kind of energy, complaints beside the question they are about.
import { el, later, post } from "./post.js";
import { field, hideUnfit, shownOnly } from "./fields.js";
import { drop, forget, keep, kept } from "./drafts.js";

const page = document.getElementById("profile");
const root = document.getElementById("profile-form");
const spec = JSON.parse(page.dataset.spec);
const path = page.dataset.path;
const draftName = `form of ${path || "a new machine"}`;
const fresh = JSON.parse(page.dataset.answers);
let answers = fresh;
let tried = false;
let ctx;

const machineFields = () => spec.machine.filter((f) => !f.only_new || !path);
const sourcesOf = (kind) => answers.energy[kind].sources;

function context() {
  return {
    drawers: new Set(),
    names: () => spec.kinds.flatMap(({ kind }) => (answers.energy[kind].any === "yes" ? sourcesOf(kind).map((s) => s.name.trim()).filter(Boolean) : [])),
    change: (field, before, of) => {
      if (field.key === "name" && of.kindOf) renamed(before, of);
      refit();
      touched();
    },
  };
}

// A new name of a source goes wherever the old one was chosen.
function renamed(before, of) {
  const [old, now] = [(before || "").trim(), of.name.trim()];
  if (old && now && old !== now && !ctx.names().includes(old)) {
    const swap = (list) => (list || []).map((name) => (name === old ? now : name));
    for (const { kind } of spec.kinds)
      for (const source of sourcesOf(kind))
        for (const key of ["fed_by", "charged_by", "needs_releases", "needs_restores"]) source[key] = swap(source[key]);
    for (const zone of answers.zones) zone.reach = swap(zone.reach);
    answers.order = swap(answers.order);
  }
  redraw();
}

function redraw() {
  for (const drawer of ctx.drawers) if (drawer.box.isConnected) drawer.draw();
}

function refit() {
  for (const { box, specs, of } of ctx.groups) hideUnfit(box, specs, of);
}

function build() {
  for (const { kind } of spec.kinds) {
    answers.energy[kind] ||= { any: "", sources: [] };
    for (const source of sourcesOf(kind)) source.kindOf = kind;
  }
  ctx = context();
  ctx.groups = [];
  root.replaceChildren(
    el("nav", { className: "form-nav", "aria-label": "Sections" }, ...sections().map(({ id, title }) => el("a", { href: `#${id}`, data: { section: id } }, title))),
    el("div", { id: "form-messages", role: "status" }),
    section("machine", "The machine", "", group(machineFields(), answers, "")),
    ...spec.kinds.map(energy),
    section("covers", "Covers", "", group(spec.covers, answers, "")),
    ...spec.repeats.slice(0, 1).map(repeat),
    section("tests", "Tests before it goes back", "", group(spec.tests, answers, "")),
    ...spec.repeats.slice(1).map(repeat),
    el("div", { className: "form-end" },
      el("p", { id: "form-open", role: "status" }), el("ul", { id: "form-list" }),
      el("button", { type: "button", className: "main", id: "form-write", on: { click: () => write(false) } }, path ? "Save the machine" : "Make the machine")),
  );
  refit();
}

// A section with a key may stay empty: it is ticked once something stands in it.
function sections() {
  const own = spec.kinds.map((k) => ({ id: `kind-${k.kind}`, title: k.title }));
  const [first, ...rest] = spec.repeats.map((r) => ({ id: `part-${r.key}`, title: r.nav, key: r.key }));
  return [{ id: "part-machine", title: "The machine" }, ...own, { id: "part-covers", title: "Covers" }, first, { id: "part-tests", title: "Tests", key: "tests" }, ...rest];
}

function section(key, title, help, ...inside) {
  return el("section", { id: key.startsWith("kind-") ? key : `part-${key}`, className: "form-part", "aria-label": title },
    el("h2", {}, title), help ? el("p", { className: "help" }, help) : "", ...inside);
}

function group(specs, of, at, name = "div") {
  const box = el(name, { className: "group" }, ...specs.map((each) => field(each, of, at, ctx)));
  ctx.groups.push({ box, specs, of });
  return box;
}

function energy(kind) {
  const of = answers.energy[kind.kind];
  const at = `energy.${kind.kind}.`;
  const list = el("div", { className: "sources" });
  const any = { key: "any", question: `Is there any ${kind.kind === "other" ? "other energy" : kind.title.toLowerCase()}?`, type: "choice", options: [{ value: "yes", words: "yes" }, { value: "no", words: "no" }] };
  const own = { ...ctx, drawers: ctx.drawers, change: (...given) => { if (of.any === "yes" && of.sources.length === 0) add(); draw(); redraw(); ctx.change(...given); } };
  const add = () => {
    const usual = kind.title.toLowerCase();
    const name = kind.kind === "other" || of.sources.length || ctx.names().includes(usual) ? "" : usual;
    of.sources.push({ name, kindOf: kind.kind, prove_from: "inside", release_from: "inside" });
  };
  const draw = () => {
    list.hidden = of.any !== "yes";
    list.replaceChildren(...of.sources.map((source, n) => one(source, n)),
      el("button", { type: "button", on: { click: () => { add(); draw(); refit(); redraw(); touched(); list.querySelectorAll(".source")[of.sources.length - 1].querySelector("input").focus(); } } }, `Add another source of ${kind.kind === "other" ? "energy" : kind.title.toLowerCase()}`));
  };
  const one = (source, n) => {
    const specs = spec.source.filter((each) => !each.kinds || each.kinds.includes(kind.kind));
    const box = group(specs, source, `${at}sources.${n}.`);
    box.prepend(el("h3", {}, of.sources.length > 1 ? `Source ${n + 1}` : "The source"));
    box.append(el("button", { type: "button", className: "small", on: { click: () => { of.sources.splice(n, 1); if (!of.sources.length) of.any = ""; build(); touched(); document.getElementById(`kind-${kind.kind}`).scrollIntoView(); } } }, "Take this source out"));
    box.classList.add("source");
    return box;
  };
  draw();
  return section(`kind-${kind.kind}`, kind.title, kind.help, field(any, of, at, own), list);
}

function repeat(part) {
  const list = el("div", { className: "sources" });
  const draw = () => list.replaceChildren(...answers[part.key].map((entry, n) => {
    const box = group(part.fields, entry, `${part.key}.${n}.`);
    box.classList.add("source");
    box.append(el("button", { type: "button", className: "small", on: { click: () => { answers[part.key].splice(n, 1); draw(); touched(); } } }, `Take this ${part.one} out`));
    return box;
  }), el("button", { type: "button", on: { click: () => { answers[part.key].push({ name: "" }); draw(); refit(); touched(); list.querySelectorAll(".source")[answers[part.key].length - 1].querySelector("input").focus(); } } }, part.add));
  draw();
  return section(part.key, part.title, part.help, list);
}

// What is sent: no answers to questions that are not shown, nothing of our own.
function sent() {
  const energy = {};
  for (const { kind } of spec.kinds) {
    const { any, sources } = answers.energy[kind];
    energy[kind] = { any, sources: any === "yes" ? sources.map((s) => { const { kindOf, ...own } = shownOnly(spec.source, s, kind); return own; }) : [] };
  }
  return { ...shownOnly([...spec.machine.filter((f) => !f.only_new), ...spec.covers], answers), energy };
}

function complain(questions) {
  const said = new Map();
  for (const { at, text } of questions) if (!said.has(at)) said.set(at, text);
  for (const box of root.querySelectorAll(".field")) {
    const words = tried ? said.get(box.dataset.at) || "" : "";
    const wrong = box.querySelector(":scope > .wrong");
    if (wrong.textContent !== words) wrong.textContent = words;
    box.classList.toggle("asks", words !== "");
  }
  document.getElementById("form-open").textContent = questions.length ? `${questions.length} ${questions.length === 1 ? "question is" : "questions are"} open.` : "Every question is answered.";
  document.getElementById("form-list").replaceChildren(...(tried ? questions.slice(0, 12).map(({ at, text }) => el("li", {}, el("button", { type: "button", className: "jump", on: { click: () => go(at) } }, text))) : []));
  for (const { id, key } of sections()) {
    const box = document.getElementById(id);
    const open = questions.filter(({ at }) => box.querySelector(`[data-at="${CSS.escape(at)}"]`)).length;
    const tab = root.querySelector(`[data-section="${id}"]`);
    const empty = Boolean(key) && !answers[key]?.length;
    tab.classList.toggle("done", open === 0 && !empty);
    tab.classList.toggle("free", open === 0 && empty);
    tab.setAttribute("aria-label", `${tab.textContent}: ${open ? `${open} open` : empty ? "may stay empty" : "answered"}`);
  }
}

function go(at) {
  const box = root.querySelector(`.field[data-at="${CSS.escape(at)}"]`);
  if (!box) return;
  box.scrollIntoView({ block: "center" });
  box.querySelector("input, textarea, select")?.focus({ preventScroll: true });
}

let round = 0;
async function ask() {
  round += 1;
  const mine = round;
  const { status, data } = await post("/new/equipment/ask", { answers: sent() });
  if (mine !== round) return;
  if (status === 200) complain(data.questions);
  else tell(data.error);
}
const askSoon = later(ask, 300);

function touched() {
  keep(draftName, page.dataset.hash, JSON.stringify(answers));
  askSoon();
}

function tell(...words) {
  const box = document.getElementById("form-messages");
  box.replaceChildren(...words.map((each) => (typeof each === "string" ? el("p", { className: "wrong" }, each) : each)));
  box.scrollIntoView({ block: "center" });
}

async function write(anyway) {
  tried = true;
  const { status, data } = await post("/new/equipment", { answers: sent(), path, base: page.dataset.hash, anyway });
  if (status === 200) {
    drop(draftName, page.dataset.hash);
    location.href = data.open;
  } else if (data.questions) {
    complain(data.questions);
    go(data.questions[0].at);
  } else if (data.problems) refusedFor(data);
  else tell(data.error);
}

function refusedFor(data) {
  const rows = [
    ...data.problems.map((p) => el("li", {}, `${p.message}`, p.help ? el("p", { className: "help" }, p.help) : "")),
    ...data.others.map((name) => el("li", {}, `${name} would not be accepted any more`)),
  ];
  tell(el("p", { className: "wrong" }, "Nothing is written yet. The check would say:"), el("ul", {}, ...rows),
    data.anyway ? el("button", { type: "button", id: "form-anyway", on: { click: () => write(true) } }, "Write it all the same") : "");
}

function offerDraft() {
  for (const draft of kept(draftName)) {
    const when = new Date(draft.at).toLocaleString([], { dateStyle: "medium", timeStyle: "short" });
    const other = draft.hash === page.dataset.hash ? "" : " The file has been saved by somebody since then.";
    const box = el("div", { className: "kept-text" }, el("p", {}, `Unsaved answers of ${when} are kept in this browser.${other}`),
      el("button", { type: "button", className: "take-draft", on: { click: () => { answers = JSON.parse(draft.text); forget(draft); build(); ask(); } } }, "Take them back"),
      el("button", { type: "button", className: "drop-draft", on: { click: () => { forget(draft); box.remove(); } } }, "Throw them away"));
    root.prepend(box);
  }
}

build();
offerDraft();
ask();
