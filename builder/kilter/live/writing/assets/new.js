// The form for a new document: a number is proposed and tried at once, pasted text is shown as what it becomes.
import { el, later, post } from "./post.js";
import { told } from "./told.js";

const form = document.getElementById("new-form");
const part = (name) => document.getElementById(`new-${name}`);
const NAMES = ["equipment", "kind", "task", "zone", "covers", "minutes", "number", "title"];
let html = "";
let pastedPlain = "";
let proposed = "";

function complain(name, words) {
  const wrong = part(`${name}-wrong`);
  wrong.textContent = words || "";
  wrong.parentElement.classList.toggle("asks", Boolean(words));
}

function propose() {
  const machine = part("equipment").selectedOptions[0]?.dataset ?? {};
  const next = part("kind").value === "training" ? (machine.next || "").replace(/^.*-/, "TRN-") : machine.next || "";
  part("covers").value = machine.documents || "";
  if (part("number").value === "" || part("number").value === proposed) part("number").value = next;
  proposed = next;
  complain("number", "");
}

const tryNumber = later(async () => {
  const number = part("number").value.trim();
  if (!number) return;
  const { status, data } = await post("/new/number", { number });
  if (part("number").value.trim() === number) complain("number", status === 200 ? data.trouble : data.error);
}, 250);

const showPaste = later(async () => {
  const plain = part("plain").value;
  part("paste-box").hidden = !plain.trim();
  if (!plain.trim()) return;
  const { status, data } = await post("/new/paste", { plain, html: formatted(), equipment: part("equipment").value });
  if (status !== 200) return complain("plain", data.error);
  complain("plain", "");
  part("became").textContent = data.text;
  part("maybe").replaceChildren(...data.candidates.map((c) => el("li", {}, `line ${c.place.line}: `, ...told(c.message))));
}, 300);

// The formatted text counts only as long as the plain one is still what was pasted.
function formatted() {
  return part("plain").value === pastedPlain ? html : "";
}

part("plain").addEventListener("paste", (event) => {
  if (part("plain").value.trim()) { html = ""; return; }
  html = event.clipboardData.getData("text/html");
  setTimeout(() => { pastedPlain = part("plain").value; showPaste(); }, 0);
});
part("plain").addEventListener("input", showPaste);
part("equipment").addEventListener("change", () => { propose(); kind(); complain("equipment", ""); showPaste(); });
part("number").addEventListener("input", tryNumber);
for (const name of ["kind", "task"]) part(name).addEventListener("change", kind);
part("kind").addEventListener("change", propose);
for (const name of ["kind", "task", "zone", "title"]) part(name).addEventListener("change", () => complain(name, ""));

function kind() {
  const teaches = part("kind").value === "training";
  const check = part("kind").value === "pre-use-check" || teaches;
  for (const name of ["covers", "minutes"]) part(name).closest(".field").hidden = !teaches;
  part("plain").closest(".field").hidden = teaches;
  part("task").closest(".field").hidden = check;
  const inside = !check && part("task").value !== "test";
  part("zone").closest(".field").hidden = !inside || !zones().length;
  askTitle(!check && part("task").value === "fault-isolation");
}

// The zones of the chosen machine; those of others can't be chosen.
function zones() {
  const all = [...part("zone").options].filter((option) => option.dataset.of);
  for (const option of all) option.hidden = option.disabled = option.dataset.of !== part("equipment").value;
  if (part("zone").selectedOptions[0]?.disabled) part("zone").value = "";
  return all.filter((option) => !option.disabled);
}

// A fault is looked for by what is noticed, everything else by what is done.
const usual = { question: label().textContent, help: part("title-help").textContent };

function label() {
  return document.querySelector('label[for="new-title"]');
}

function askTitle(symptom) {
  label().textContent = symptom ? part("title").dataset.symptom : usual.question;
  part("title-help").textContent = symptom ? part("title").dataset.symptomHelp : usual.help;
}

form.addEventListener("submit", async (event) => {
  event.preventDefault();
  part("make").disabled = true;
  const body = Object.fromEntries(NAMES.map((name) => [name, part(name).value]));
  const frame = form.querySelector('input[name="frame"]:checked').value;
  const { status, data } = await post("/new", { ...body, plain: part("plain").value, html: formatted(), frame });
  part("make").disabled = false;
  if (status === 200) { location.href = data.open; return; }
  part("wrong").textContent = data.error || "";
  for (const name of NAMES) complain(name, data.questions?.[name]);
  const first = NAMES.find((name) => data.questions?.[name]);
  if (first) part(first).focus();
});

propose();
kind();
showPaste();
