// Placing by eye: a tap, a key or the loupe moves the cross; the row that follows from it is copied or written.
import { el, post } from "/writing/post.js";
import { draw, loupe, zoomOf } from "./drawn.js";
import { needsTwo, read, written } from "./line.js";
import { carried, settled } from "./rows.js";

const id = (name) => document.getElementById(name);
const page = id("place"), board = id("place-board"), image = id("place-image"), canvas = id("place-loupe");
const path = page.dataset.path, figure = Number(page.dataset.figure);
const FIELDS = ["number", "label", "kind", "way", "amount", "corner", "times", "length"];
let state = null, at = null, first = null, chosen = null, dirty = false;
let touched = 0; // counts what the writer did: an answer takes nothing away that was chosen or placed since it was asked for
let foreign = 0; // counts answers in which somebody else had changed the file

const tool = () => document.querySelector("input[name=place-tool]:checked").value;
const now = () => ({ tool: tool(), at, first, ...Object.fromEntries(FIELDS.map((name) => [name, id(`place-${name}`).value])) });

function tell(words, kind = "") {
  id("place-messages").replaceChildren(words ? el("p", { className: kind }, words) : "");
}

function shown() {
  if (!state) return;
  const mine = now(), row = written(mine), two = needsTwo(mine.tool);
  for (const label of document.querySelectorAll("[data-of]")) label.hidden = label.dataset.of !== mine.tool;
  id("place-first").hidden = !two;
  id("place-first").disabled = !at;
  id("place-first").textContent = mine.tool === "scale" ? "First end here" : "First corner here";
  id("place-line").value = row;
  id("place-copy").disabled = !row;
  id("place-save").disabled = !row;
  id("place-save").textContent = chosen ? `Change line ${chosen.line}` : "Write into the file";
  id("place-at").textContent = at ? `${at.x}, ${at.y}` : "no place yet";
  id("place-remove").hidden = id("place-new").hidden = !chosen;
  id("place-clockwise").hidden = !state.clockwise.offered;
  id("place-unordered").hidden = !state.clockwise.refused;
  id("place-unordered").textContent = state.clockwise.refused ? `The numbers can't be put in clockwise order. ${state.clockwise.refused}` : "";
  id("place-undo").hidden = !state.undo;
  for (const button of document.querySelectorAll("#place-rows button")) button.setAttribute("aria-pressed", String(Number(button.dataset.line) === chosen?.line));
  draw(id("place-drawn"), state, mine, chosen?.line);
  loupe(canvas, image, state, at);
}

const drawn = new WeakMap(); // a row's entry in the list stays, so that a finger or the keys on it are not thrown off
function entry(row) {
  if (!drawn.has(row)) {
    drawn.set(row, el("li", {}, el("button", { type: "button", className: "place-row", on: { click: () => choose(row) } })));
  }
  const made = drawn.get(row), button = made.firstElementChild;
  button.dataset.line = row.line;
  button.textContent = `:${row.name}: ${row.value}`;
  const found = state.findings.filter((each) => each.line === row.line);
  made.replaceChildren(button, ...found.map((each) => el("p", { className: "wrong" }, each.message)));
  return made;
}

function put(data) {
  state = { ...data, rows: carried(state?.rows || [], data.rows) };
  image.dataset.width = state.width;
  if (!state.rows.includes(chosen)) chosen = null;
  const list = id("place-rows"), rows = state.rows.map(entry);
  if (!rows.length) rows.push(el("li", {}, "No places yet."));
  if (rows.length !== list.children.length || rows.some((row, n) => row !== list.children[n])) list.replaceChildren(...rows);
  shown();
}

function choose(row) {
  const said = read(row.name, row.value);
  if (!said) return tell("This line can't be read. Mend it in Write.", "wrong");
  chosen = row;
  dirty = false;
  touched += 1;
  at = said.at;
  first = said.first || null;
  document.querySelector(`input[name=place-tool][value=${said.tool}]`).checked = true;
  for (const name of FIELDS) if (said[name] !== undefined) id(`place-${name}`).value = said[name];
  tell("");
  shown();
}

function fresh() {
  chosen = null;
  dirty = false;
  touched += 1;
  first = null;
  id("place-number").value = String(Math.max(0, ...state.rows.map((row) => Number(row.name) || 0)) + 1);
  for (const name of ["label", "amount", "length"]) id(`place-${name}`).value = "";
  id("place-times").value ||= "3";
  shown();
}

function aim(x, y) {
  const most = needsTwo(tool()) && tool() !== "scale" ? 0 : 1; // an area may end at the picture's edge
  at = { x: Math.round(Math.min(Math.max(x, 0), state.width - most)), y: Math.round(Math.min(Math.max(y, 0), state.height - most)) };
  dirty = true;
  touched += 1;
  shown();
}

function move(x, y) {
  const from = at || { x: state.width / 2, y: state.height / 2 };
  aim(from.x + x, from.y + y);
}

// One after the other: what is asked while an answer is under way waits, and goes by what that answer said.
let turn = Promise.resolve();
function ask(address, more, took) {
  const mine = turn.then(() => more()).then((body) => body && asked(address, body, took));
  turn = mine.catch(() => false);
  return mine;
}

async function asked(address, more, took = () => {}) {
  const before = state?.hash;
  const { status, data } = await post(address, { path, figure, ...more });
  if (status === 200) took();
  else if (data.hash) foreign += 1;
  if (address === "/place/state" && before && data.hash && data.hash !== before) foreign += 1;
  if (data.hash) put(data);
  if (status !== 200) tell(data.error, "wrong");
  return status === 200;
}

// Written over what this page showed when it was asked, and over what it has written itself in between; never over what
// an answer in between has brought from somebody else. `wanted` gives, when its turn comes, [{row, text}], no row for a new one.
function save(wanted) {
  const base = state.hash, seen = foreign;
  let changes = [];
  return ask("/place/save", () => {
    changes = wanted();
    if (changes.some(({ row }) => row && !state.rows.includes(row))) return tell("That line is gone already.", "wrong");
    return { base: seen === foreign ? state.hash : base, rows: changes.map(({ row, text }) => ({ line: row ? row.line : 0, text })) };
  }, () => { state.rows = settled(state.rows, changes); });
}

// The form is emptied for the next row, unless the next is already being placed.
function done(mark, words) {
  if (mark === touched) fresh();
  tell(words);
}

board.addEventListener("click", (event) => {
  if (!state) return;
  const box = image.getBoundingClientRect();
  aim((event.clientX - box.left) / box.width * state.width, (event.clientY - box.top) / box.height * state.height);
});
const WAYS = { ArrowUp: [0, -1], ArrowDown: [0, 1], ArrowLeft: [-1, 0], ArrowRight: [1, 0] };
board.addEventListener("keydown", (event) => {
  const way = WAYS[event.key];
  if (!state || !way || event.ctrlKey || event.altKey || event.metaKey) return;
  event.preventDefault();
  move(way[0] * (event.shiftKey ? 10 : 1), way[1] * (event.shiftKey ? 10 : 1));
});
for (const button of document.querySelectorAll("[data-move]")) {
  button.addEventListener("click", () => move(...button.dataset.move.split(",").map(Number)));
}

let grip = null; // where the finger took hold of the loupe, and where the cross was
canvas.addEventListener("pointerdown", (event) => {
  if (!state) return;
  at ??= { x: state.width / 2, y: state.height / 2 };
  grip = { x: event.clientX, y: event.clientY, at };
  canvas.setPointerCapture(event.pointerId);
});
canvas.addEventListener("pointermove", (event) => {
  if (!grip) return;
  const zoom = zoomOf(image);
  aim(grip.at.x - (event.clientX - grip.x) / zoom, grip.at.y - (event.clientY - grip.y) / zoom);
});
for (const end of ["pointerup", "pointercancel"]) canvas.addEventListener(end, () => { grip = null; });

page.addEventListener("input", () => { dirty = true; touched += 1; shown(); });
page.addEventListener("change", (event) => {
  if (event.target.name !== "place-tool") return;
  chosen = null;
  first = null;
  shown();
});
id("place-first").addEventListener("click", () => { first = at; touched += 1; shown(); tell(tool() === "scale" ? "Now the other end." : "Now the corner opposite."); });
id("place-copy").addEventListener("click", async () => {
  const line = id("place-line");
  try { await navigator.clipboard.writeText(line.value); tell("Copied."); } catch { line.focus(); line.select(); tell("The line is marked: copy it with Ctrl C or a long tap."); }
});
id("place-save").addEventListener("click", async () => {
  const row = chosen, mark = touched, line = id("place-line").value;
  if (await save(() => [{ row, text: line }])) done(mark, row ? `Line ${row.line} is changed in the file.` : "Written into the file.");
});
id("place-remove").addEventListener("click", async () => {
  const mark = touched, row = chosen;
  if (await save(() => [{ row, text: "" }])) done(mark, "The line is taken out.");
});
id("place-new").addEventListener("click", () => { fresh(); tell(""); });
id("place-undo").addEventListener("click", async () => {
  const mark = touched;
  if (await ask("/place/undo", () => ({ base: state.hash }))) done(mark, "Taken back. Undo again brings it back.");
});
id("place-clockwise").addEventListener("click", async () => {
  const mark = touched, follow = state.clockwise.references;
  const also = follow ? ` What the text says of them follows in ${follow === 1 ? "one place" : `${follow} places`}.` : "";
  if (await ask("/place/number", () => ({ base: state.hash }))) done(mark, `The items are numbered clockwise.${also}`);
});
document.addEventListener("kilter:changed", async () => {
  await turn;
  const before = foreign;
  if (await ask("/place/state", () => ({})) && before !== foreign) {
    if (!dirty) chosen ? choose(chosen) : fresh();
    tell("The file has changed; this is how it stands now.");
  }
});
image.addEventListener("load", shown);
addEventListener("resize", shown);
ask("/place/state", () => ({})).then((good) => good && fresh());
