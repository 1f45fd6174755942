/** One step a screen, from the page's own steps: shown and hidden, never copied. */
import {el, button, labelled, W, clockOf} from "./dom.js";
import {doubt, fold, safeAgain, stageOf, stepsOf, timeOf, unmet, waitsFor} from "./engine.js";
import {StoreError} from "./store.js";
import {statement, stripOf} from "./strip.js";
import {Clock, timerOf} from "./timers.js";
import {readingOf, verdictWords} from "./readings.js";
import {beginForm} from "./begin.js";
import {backScreen, handoverScreen, pausedScreen} from "./pause.js";
import {handingParts} from "./later.js";
import {remarkScreen} from "./remark.js";
import {keepAwake} from "./awake.js";
import {Warned} from "./warned.js";
import {localTime, zoneName} from "./clock.js";
import {uuid} from "./uuid.js";

export class View {
  constructor(plan, store, counter) {
    Object.assign(this, {plan, store, counter, steps: stepsOf(plan), head: null, entries: [], screen: "step", look: "", edit: "",
      tools: {}, trouble: "", busy: Promise.resolve()});
    this.clock = new Clock();
    this.top = el("header", {class: "run-top"});
    this.foot = el("div", {class: "run-foot", role: "region", "aria-label": W("way-on")});
    this.sheet = el("div", {class: "run-sheet", role: "main"});
    this.controls = el("div", {class: "run-controls"});
    this.note = el("div", {class: "run-note", role: "status"});
    document.body.append(this.foot);
    document.querySelector("main").before(this.top, this.sheet);
    document.querySelector("main").addEventListener("click", (event) => {
      const inner = this.open && event.target.closest('a[href^="#"]');
      if (inner) event.preventDefault(); // a link inside the page would leave the step; the way on is below it
    });
    document.addEventListener("kilter:revision", ({detail}) => this.heard(detail));
    for (const moved of ["scroll", "resize"]) addEventListener(moved, () => this.warned?.look(), {passive: true});
    setInterval(() => this.watch(), 5000);
  }

  get state() {
    return fold(this.plan, this.entries, Date.now());
  }

  get open() {
    return document.body.classList.contains("running");
  }

  // Opening and leaving

  enter(head) {
    return this.turn(() => this.entering(head));
  }

  async entering(head) {
    document.body.classList.add("running");
    if (location.hash !== "#run") history.pushState(null, "", "#run");
    this.tools = (await this.store.kept("tools")) || {};
    keepAwake(true);
    if (!head) this.screen = "begin";
    else await this.load(head);
    this.draw(true);
  }

  async load(head) {
    this.head = head;
    this.entries = await this.store.entries(head.id);
    this.screen = "step";
    const {last, paused, exit} = this.state;
    if (!exit && !paused && last && Date.now() - last > this.plan.idle * 1000) await this.append("idle");
  }

  leave() {
    document.body.classList.remove("running");
    keepAwake(false);
    for (const each of document.querySelectorAll(".now, .shown-opening")) each.classList.remove("now", "shown-opening");
    this.controls.remove();
    if (location.hash === "#run") history.replaceState(null, "", location.pathname + location.search);
    this.counter();
  }

  // Entries

  /** What reads or writes the store goes one after the other, so that a quick second touch waits for the first. */
  turn(work) {
    this.busy = this.busy.catch(() => {}).then(work).catch((trouble) => this.failed(trouble));
    return this.busy;
  }

  act(kind, more = {}) {
    return this.turn(() => this.append(kind, more).then(() => this.draw(this.moved)));
  }

  async append(kind, more = {}) {
    const before = this.state, step = this.steps.get(before.step);
    const occurrence = before.route.filter((stop) => stop.anchor === before.step).length || 1;
    const entry = {n: String(this.entries.length + 1), at: localTime(), kind, step: step ? step.anchor : "",
      number: step ? step.number : "", occurrence: String(occurrence), ...more};
    await this.store.add(this.head.id, entry);
    this.entries.push(entry);
    const after = this.state;
    this.moved = after.step !== before.step || after.visit.n !== before.visit.n || after.paused !== before.paused || after.exit !== before.exit
      || (kind === "caution" && more.stage !== entry.step); // the step itself comes after its stage's warnings
    this.trouble = "";
    if (after.exit && !before.exit && kind !== "exit") await this.append("exit", {exit: after.exit});
  }

  async failed(trouble) {
    if (!(trouble instanceof StoreError)) throw trouble;
    if (trouble.kind === "elsewhere") {
      this.entries = await this.store.entries(this.head.id);
      this.trouble = W("trouble.elsewhere");
    } else this.trouble = W(trouble.kind === "full" ? "trouble.full" : "trouble.lost");
    this.draw(false);
  }

  start(given) {
    const head = {id: uuid(), kind: "run", document: this.plan.document, revision: this.plan.revision, hash: this.plan.hash,
      equipment: this.plan.equipment, ...given, started: localTime(), zoneName: zoneName(), page: this.plan.page, plan: this.plan};
    return this.turn(async () => {
      await this.store.begin(head);
      await this.store.keep("worker", given.worker);
      Object.assign(this, {head, entries: [], screen: "step"});
      await this.append("begin", {worker: given.worker});
      this.draw(true);
    });
  }

  /** Every few seconds: has the machine been left alone too long, has the phone's clock been moved? */
  watch() {
    if (!this.open || !this.head || this.screen === "begin") return;
    const state = this.state, jump = this.clock.jumped();
    if (jump && state.visit.waiting.length) this.restart(state, W("trouble.clock"));
    if (!state.exit && !state.paused && state.last && Date.now() - state.last > this.plan.idle * 1000 && !state.visit.waiting.length) {
      this.act("idle");
    }
  }

  /** A wait whose clock can't be trusted begins again. */
  restart(state, why) {
    const waiting = state.visit.waiting[0];
    this.act("waiting", {index: waiting.index, wanted: String(waiting.wanted)}).then(() => {
      this.trouble = why;
      this.draw(false);
    });
  }

  /** Another revision came into force: said once, at the next moment when nobody is in the middle of a form. */
  heard({kind, inForce}) {
    this.newer = ["other", "changed", "withdrawn", "kept-other", "kept-withdrawn"].includes(kind) ? inForce || "-" : "";
    const said = this.newer && this.entries.some((entry) => entry.kind === "revision" && entry.inForce === this.newer);
    if (!this.newer || said || !this.open || !this.head || this.screen !== "step" || this.state.exit) return;
    this.show("revision");
  }

  revisionSheet() {
    const values = {inForce: this.newer, revision: this.plan.revision};
    const choose = (choice) => async () => {
      this.screen = "step";
      await this.act("revision", {inForce: this.newer, choice});
      if (choice === "stop") await this.act("stop");
    };
    return el("div", {class: "run-screen"}, el("h2", {tabindex: -1}, W("standing.run-title", values)), el("p", {}, W("standing.run-why", values)),
      statement(this.plan, this.state),
      el("div", {class: "run-pair"}, button(W("standing.run-on", values), choose("go on"), {class: "run-plain"}), button(W("standing.run-stop", values), choose("stop"), {class: "run-main"})));
  }

  // Drawing

  draw(focus) {
    const state = this.head ? this.state : null;
    [this.begun, this.warned] = [this.warned, null];
    const typed = this.typed;
    for (const each of document.querySelectorAll(".now, .shown-opening")) each.classList.remove("now", "shown-opening");
    this.controls.remove();
    this.controls.replaceChildren();
    this.sheet.replaceChildren();
    this.foot.replaceChildren();
    this.note.replaceChildren(...(this.trouble ? [el("p", {}, this.trouble)] : []), ...(this.store.lasting ? [] : [el("p", {}, W("trouble.memory"))]));
    this.drawTop(state);
    const sheet = this.sheetOf(state);
    document.body.classList.toggle("run-on-sheet", Boolean(sheet));
    if (sheet) this.sheet.append(sheet);
    else if (this.look) this.drawLook(state);
    else this.drawStep(state);
    if (typed && this.keys?.dataset.of === typed.of) this.keys.value = typed.value;
    document.dispatchEvent(new CustomEvent("kilter:run", {detail: {state, head: this.head, screen: this.screen}}));
    if (focus) this.focus();
    this.warned?.look();
  }

  focus() {
    window.scrollTo(0, 0);
    const heading = this.sheet.querySelector("h2") || document.querySelector(".step.now h3, .stage.now.shown-opening h2");
    if (!heading) return;
    heading.tabIndex = -1;
    heading.focus({preventScroll: true});
  }

  drawTop(state) {
    const title = el("h1", {class: "run-title"}, el("b", {}, `${this.plan.document} ${this.plan.revision}`), " ", this.plan.title);
    const step = state && this.steps.get(state.step);
    const stage = step && stageOf(this.plan, step.stage);
    const done = state ? new Set(state.route.map((stop) => stop.anchor)).size : 0;
    const where = stage ? el("h2", {class: "run-where"}, W("where", {stage: stage.number, title: stage.title, n: done}),
      this.callers(state)) : null;
    const live = state && !state.exit && !state.paused && this.screen === "step";
    const tools = live ? el("div", {class: "run-tools"}, button(W("called-away"), () => this.act("away")), button(W("stop-here"), () => this.act("stop"))) : null;
    this.top.replaceChildren(title, ...(where ? [where] : []), ...(tools ? [tools] : []), this.note);
  }

  /** Where the run goes on when this stage is through, or when everything is proved again. */
  callers(state) {
    const words = (key, anchor) => ` · ${W(key, {step: this.steps.get(anchor)?.number || ""})}`;
    if (state.detour) return words(state.making.length ? "making-then" : "proving-then", state.at);
    return state.calls.length ? words("then-back", state.calls[state.calls.length - 1]) : "";
  }

  sheetOf(state) {
    const stay = () => this.show("step");
    if (this.screen === "begin") return beginForm(this.plan, {}, (given) => this.start(given), () => this.leave());
    if (this.screen === "remark") {
      return remarkScreen(this.steps.get(this.look || state.step), {stay, take: (text) => this.remark(text)});
    }
    if (this.screen === "handover") return handoverScreen(this.plan, state, {stay, take: (to, off, on) => this.takeOver(to, off, on)});
    if (this.screen === "back") return backScreen(this.plan, state, {stay, go: (missing) => this.goBack(missing)});
    if (this.screen === "revision") return this.revisionSheet();
    if (state.exit) return this.finishSheet(state);
    if (state.paused) {
      return pausedScreen(this.plan, state, this.head, {back: () => this.show("back"), other: () => this.show("handover"), close: () => this.leave()});
    }
    return null;
  }

  show(screen) {
    this.screen = screen;
    this.draw(true);
  }

  async goBack(missing) {
    this.screen = "step";
    await this.act("back", {missing: missing.join(", ")});
  }

  async takeOver(to, off, on) {
    this.screen = "back";
    await this.act("handover", {to, locksOff: off.join(", "), locksOn: on.join(", ")});
  }

  remark(text) {
    const step = this.steps.get(this.look || this.state.step);
    const head = {...this.head, id: uuid(), kind: "remark", started: localTime(), previous: undefined, handed: ""};
    return this.turn(async () => {
      await this.store.begin(head);
      await this.store.add(head.id, {n: "1", at: localTime(), kind: "remark", step: step.anchor, number: step.number, occurrence: "1",
        hash: step.hash, text});
      this.screen = "step";
      this.trouble = W("remark-kept");
      this.counter();
      this.draw(true);
    });
  }

  section(anchor) {
    const section = document.getElementById(anchor);
    section.classList.add("now");
    section.closest(".stage").classList.add("now");
    return section;
  }

  drawStep(state) {
    const step = this.steps.get(state.step), section = this.section(step.anchor);
    const stage = stageOf(this.plan, step.stage);
    const open = waitsFor(this.plan, state).filter(([kind]) => kind === "caution").map(([, key]) => key);
    const ofStage = open.find((key) => key.startsWith(`${stage.anchor}|`));
    if (ofStage) return this.drawCaution(section, ofStage);
    section.append(this.controls);
    if (state.after) this.controls.append(el("p", {class: "run-returned"}, W("returned", {step: step.number})));
    else this.fill(state, step, open);
    this.answers(state, step);
    this.controls.append(this.more(state, step));
    this.drawFoot(state, step, open);
    return undefined;
  }

  drawCaution(section, key) {
    section.classList.remove("now");
    section.closest(".stage").classList.add("shown-opening");
    if (this.state.detour) {
      section.closest(".stage").querySelector(".opening h2").after(this.controls);
      this.controls.append(this.detour(this.state));
    }
    this.foot.append(this.lookBack(), this.warnings(key, section.closest(".stage").querySelector(".opening")));
  }

  /** The way past warnings; drawn again, it knows which were shown. */
  warnings(key, place) {
    const [stage, words] = key.split("|"), read = () => this.act("caution", {stage, words});
    this.warned = this.begun?.key === key ? this.begun : new Warned(key, [...place.querySelectorAll(".panel")], read);
    return this.warned.button;
  }

  fill(state, step, open) {
    const lacking = unmet(this.plan, state);
    const strip = stripOf(this.plan, state, lacking);
    if (state.detour) this.controls.append(this.detour(state));
    if (strip) this.controls.append(strip);
    const [first] = state.making.length ? [] : safeAgain(this.plan, state, lacking);
    if (lacking.length && first) {
      this.controls.append(button(W("make-safe", {step: this.steps.get(first).number}), () => this.act("safe", {names: lacking.join(", ")}), {class: "run-plain run-make-safe"}));
    }
    if (open.length) return;
    step.waits.forEach((wait, n) => this.controls.append(timerOf(wait, n, state.visit, (kind, more) => this.waiting(kind, more), () => this.restart(state, W("trouble.clock")))));
    for (const reading of step.readings) {
      this.controls.append(readingOf(reading, state.visit.readings[reading.id], this.tools, (kind, more) => this.read(more), this.edit, (id) => {
        this.edit = id;
        this.trouble = ""; // what was said about a reading that was missing is over, and would cover its limit
        this.draw(false);
        document.querySelector(".run-keypad input")?.focus({preventScroll: true});
        this.bring(id, "start");
      }));
    }
    if (step.hold) this.controls.append(this.hold(state, step));
  }

  /** A wait that was begun stands where its clock can be seen. */
  async waiting(kind, more) {
    await this.act(kind, more);
    if (kind === "waiting") document.querySelector(".run-timer .digits")?.scrollIntoView({block: "center"});
  }

  detour(state) {
    return el("p", {class: "run-detour"}, W(state.making.length ? "making-safe" : "proving-again", {names: state.again.join(", "), step: this.steps.get(state.at)?.number || ""}));
  }

  async read(more) {
    this.edit = "";
    if (more.tool) {
      this.tools = {...this.tools, [more.tool]: {toolId: more.toolId, calibrationDue: more.calibrationDue}};
      this.turn(() => this.store.keep("tools", this.tools));
    }
    await this.act("reading", more);
    this.bring(more.id, "center");
  }

  /** The reading that is entered, or was, stands where it can be seen. */
  bring(id, block) {
    [...document.querySelectorAll(".run-reading")].find((box) => box.dataset.reading === id)?.scrollIntoView({block});
  }

  hold(state, step) {
    if (state.visit.hold) return el("p", {class: "run-held"}, W("hold-done", {initials: state.visit.hold}));
    const initials = el("input", {maxlength: 8, autocomplete: "off", autocapitalize: "characters"});
    const trouble = el("p", {class: "run-trouble", role: "alert"});
    const take = () => {
      const who = initials.value.trim();
      if (!who || who.toLocaleLowerCase() === state.worker.toLocaleLowerCase()) return void (trouble.textContent = W("hold-other"));
      return this.act("hold", {initials: who});
    };
    return el("section", {class: "run-hold"}, el("p", {}, el("b", {}, W("hold-title")), ` ${step.hold}`), labelled(W("hold-initials"), initials), trouble,
      button(W("hold-take"), take, {class: "run-plain"}));
  }

  answers(state, step) {
    if (!step.answers.length || (step.do && !state.after)) return;
    const cautious = waitsFor(this.plan, state).some(([kind]) => kind === "caution");
    if (cautious) return;
    const rows = step.answers.map((answer, n) => {
      const bad = answer.notZero || answer.notOk;
      const choose = () => this.choose(n, answer);
      const caller = answer.back && this.steps.get(state.calls[state.calls.length - 1]);
      const to = caller ? W("then-back", {step: caller.number}) : answer.back ? W("and-back") : answer.words;
      return el("button", {type: "button", class: `run-answer${bad ? " bad" : ""}`, onclick: choose}, el("b", {}, answer.text), el("span", {}, to));
    });
    this.controls.append(el("div", {class: "run-answers", role: "group", "aria-label": W("answers")}, el("p", {}, W("what-is-seen")), rows));
  }

  get keys() {
    return this.controls.querySelector(".run-entry input");
  }

  /** What stands in the keys; null where nothing does. */
  get typed() {
    return this.keys?.value ? {value: this.keys.value, of: this.keys.dataset.of} : null;
  }

  /** A number in the keys is no reading yet: said before the step is left, and the keys are shown. */
  unentered() {
    const {typed} = this;
    if (!typed) return false;
    this.trouble = W("unentered", {value: typed.value});
    this.draw(false);
    this.bring(typed.of, "start");
    this.keys.focus({preventScroll: true});
    return true;
  }

  choose(n, answer) {
    if (this.unentered()) return undefined;
    const open = waitsFor(this.plan, this.state, n);
    if (open.length) return this.refuse(open);
    const of = doubt(this.plan, this.state, n), taken = of && this.state.visit.readings[of];
    const asked = taken && [this.state.visit.n, n, taken.n].join(" ");
    if (taken && this.asked !== asked) {
      this.asked = asked;
      return this.tellDoubt(answer, taken);
    }
    return this.act("answer", {index: String(n), text: answer.text, failed: answer.notZero ? (answer.failed.join(", ")) : "", notOk: answer.notOk ? "yes" : ""});
  }

  /** Said once: an answer that the reading speaks against, or that does not speak of the reading. */
  tellDoubt(answer, taken) {
    this.trouble = W("doubt", {reading: `${taken.value} ${taken.unit}`, limits: taken.limits, verdict: verdictWords(taken.verdict), text: answer.text});
    this.draw(false);
    this.note.scrollIntoView({block: "nearest"});
  }

  refuse(open) {
    const [kind, detail] = open[0];
    const reading = this.plan.steps.flatMap((step) => step.readings).find((each) => each.id === detail);
    const taken = reading && this.state.visit.readings[reading.id];
    this.trouble = W(`open.${kind}`, {what: reading ? reading.name || reading.limits : detail, reading: taken ? `${taken.value} ${taken.unit}` : ""});
    this.draw(false);
    const place = {wait: ".run-timer", reading: ".run-reading", verdict: ".run-verdict", fits: ".run-verdict", hold: ".run-hold", state: ".run-strip"}[kind];
    document.querySelector(place)?.scrollIntoView({block: "center"});
    this.note.scrollIntoView({block: "nearest"});
  }

  more(state, step) {
    const last = [...this.entries].reverse().find((entry) => entry.kind === "answer");
    const withdrawn = last && this.entries.some((entry) => entry.kind === "withdrawn" && entry.entry === last.n);
    const wrong = last && !withdrawn && !state.detour
      ? button(W("answered-wrongly", {step: last.number, text: last.text}), () => this.act("withdrawn", {entry: last.n}), {class: "run-plain"}) : null;
    return el("details", {class: "run-more"}, el("summary", {}, W("more")), wrong,
      button(W("step-is-wrong"), () => this.show("remark"), {class: "run-plain"}),
      button(W("whole-page"), () => this.leave(), {class: "run-plain"}));
  }

  lookBack() {
    return button(W("look-back"), () => this.lookAt(-1), {class: "run-plain"});
  }

  drawFoot(state, step, open) {
    this.foot.append(this.lookBack());
    if (open.length) this.foot.append(this.warnings(open[0], document.getElementById(step.anchor)));
    if (open.length || (step.answers.length && !(step.do && !state.after))) return;
    const stage = step.do ? stageOf(this.plan, step.do) : null;
    const words = step.do && !state.after ? W("do-stage", {stage: `${stage.number} ${stage.title}`})
      : step.exit ? W(`end.${step.exit.replace(/[^a-z]+/g, "-")}`) : W("done");
    const go = () => {
      if (this.unentered()) return undefined;
      const left = waitsFor(this.plan, this.state);
      return left.length ? this.refuse(left) : this.act("done");
    };
    this.foot.append(button(words, go, {class: "run-main"}));
  }

  // Looking back: what was done stays as it is; the present state stays on top

  lookAt(by) {
    const route = this.state.route;
    const at = this.look ? this.lookIndex : route.length - 1;
    const to = Math.min(Math.max(0, at + by), route.length - 1);
    this.lookIndex = to;
    this.look = to === route.length - 1 ? "" : route[to].anchor;
    this.draw(true);
  }

  drawLook(state) {
    const section = this.section(this.look);
    const now = this.steps.get(state.step);
    section.append(this.controls);
    const at = state.route[this.lookIndex], next = state.route[this.lookIndex + 1];
    const then = this.entries.filter((entry) => entry.step === this.look && Number(entry.n) > at.n && (!next || Number(entry.n) <= next.n));
    this.controls.append(el("p", {class: "run-looking"}, W("looking", {step: now ? now.number : ""})),
      ...then.filter((entry) => ["answer", "reading", "wait", "hold"].includes(entry.kind)).map((entry) => el("p", {}, `${clockOf(timeOf(entry))}  ${entry.text || entry.value || ""} ${entry.unit || ""}`)));
    this.foot.append(button(W("further-back"), () => this.lookAt(-1), {class: "run-plain"}), button(W("to-now", {step: now ? now.number : ""}), () => {
      this.look = "";
      this.draw(true);
    }, {class: "run-main"}));
  }

  // The end

  finishSheet(state) {
    const place = el("div", {}), said = el("p", {class: "run-said", role: "status"});
    const close = button(W("close"), () => this.close(), {class: this.head.handed ? "run-main" : "run-plain"});
    this.handing(place, async ({finishedRecord, markHanded, recordTable, waysOut}) => {
      const record = await finishedRecord(this.store, this.head);
      const after = () => markHanded(this.store, this.head, record).then(() => {
        said.textContent = W("given-out");
        close.className = "run-main";
        this.counter();
      });
      place.append(waysOut(record, this.head, after), recordTable(record));
    });
    this.foot.append(close);
    return el("div", {class: "run-screen"}, el("h2", {tabindex: -1}, W(`exit.${state.exit.replace(/[^a-z]+/g, "-")}`)),
      state.held.length ? el("p", {}, W("stays-locked", {names: state.held.join(", ")})) : null,
      state.guardsOff.length ? el("p", {}, W("guards-off", {names: state.guardsOff.join(", ")})) : null,
      Object.values(state.sources).some((one) => one.lost === "failed") ? el("p", {class: "run-danger"}, W("treat-as-live")) : null,
      el("p", {}, W("hand-over")), said, place);
  }

  /** The ways out of the phone; without a connection they may be missing, the record is not. */
  async handing(place, show) {
    const parts = await handingParts().catch(() => null);
    if (parts) {
      place.replaceChildren();
      return show(parts);
    }
    const again = button(W("handing-again"), () => {
      again.disabled = true;
      this.handing(place, show);
    }, {class: "run-plain"});
    place.replaceChildren(el("p", {role: "alert"}, W("handing-missing")), again);
    window.addEventListener("online", () => again.isConnected && again.click(), {once: true});
    return undefined;
  }

  close() {
    this.head = null;
    this.entries = [];
    this.leave();
  }
}

