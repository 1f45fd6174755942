/** "On this phone": what is kept for the basement, how fresh it is, and the records that wait to be handed over. */
import {el, button, W, clockOf} from "./dom.js";
import {localTime} from "./clock.js";
import {Store} from "./store.js";
import {recordsSection} from "./shelfrecords.js";
import {revisionsNow} from "./stale.js";

const size = (bytes) => (bytes > 950000 ? `${(bytes / 1e6).toFixed(1)}\u00a0MB` : `${Math.max(1, Math.round(bytes / 1000))}\u00a0kB`);

/** Why nothing can be kept here; "" where it can. */
export function hindrance() {
  if (location.protocol === "file:") return "file";
  if (!window.isSecureContext) return "http";
  return "serviceWorker" in navigator && "caches" in window ? "" : "browser";
}

async function worker() {
  await navigator.serviceWorker.register("sw.js", {updateViaCache: "none"});
  const ready = await navigator.serviceWorker.ready;
  return ready.active;
}

/** Send the worker a message; `told` hears of its progress, and of nothing once the answer is there. */
function send(active, message, told = () => {}) {
  return new Promise((resolve, reject) => {
    const channel = new MessageChannel();
    channel.port1.onmessage = ({data}) => {
      if (!data.done) return told(data);
      channel.port1.close();
      return data.trouble ? reject(new Error(data.trouble)) : resolve(data);
    };
    active.postMessage(message, [channel.port2]);
  });
}

export class Shelf {
  constructor(place) {
    this.place = place;
    this.say = el("p", {role: "status", class: "shelf-say"});
  }

  async open() {
    this.store = await Store.open();
    const why = hindrance();
    if (document.documentElement.dataset.absent) this.place.append(el("p", {class: "run-danger"}, W("shelf.absent")));
    if (why) this.place.append(el("p", {class: "run-danger"}, W(`shelf.${why}`)), el("p", {}, W("shelf.cards")));
    else await this.machines();
    await this.records();
  }

  async offer() {
    try {
      const got = await fetch("offline.json", {cache: "no-store", redirect: "error", signal: AbortSignal.timeout(8000)});
      const data = got.ok ? await got.json() : null;
      return data && data.schema === "kilter-offline-1" ? data : null;
    } catch {
      return null;
    }
  }

  async machines() {
    const registered = await navigator.serviceWorker.getRegistration();
    this.active = registered && registered.active;
    this.status = this.active ? await send(this.active, {type: "status"}) : {sets: []};
    this.list = el("ul", {class: "shelf-list"});
    this.facts = el("p", {});
    this.place.append(el("h2", {}, W("shelf.kept")), this.facts, this.say, this.list);
    this.data = await this.offer();
    this.draw();
    if (this.data && this.status.sets.length && this.data.rev !== this.status.rev) await this.change(this.status.sets);
  }

  draw() {
    const {sets, at, bytes} = this.status;
    const when = at ? `${localTime(new Date(at)).slice(0, 10)} ${clockOf(at)}` : "";
    const days = Number(this.place.dataset.days);
    const future = at && at > Date.now() + 60000;
    this.facts.textContent = sets.length ? W(future ? "shelf.clock" : Date.now() - at > days * 86400000 ? "shelf.too-long" : "shelf.touched", {when, size: size(bytes || 0), days}) : W("shelf.nothing");
    if (!this.data) {
      this.list.replaceChildren(...sets.map((name) => el("li", {}, el("b", {}, this.status.titles?.[name] || name))));
      if (!sets.length) this.list.replaceChildren(el("li", {}, W("shelf.no-connection")));
      return;
    }
    const all = Object.keys(this.data.sets).filter((name) => name !== "shell");
    const of = (names) => [...new Set(["shell", ...names].flatMap((name) => this.data.sets[name].paths))].reduce((sum, path) => sum + this.data.bytes[path], 0);
    const row = (name) => {
      const on = sets.includes(name), title = this.data.sets[name].title;
      const next = on ? sets.filter((each) => each !== name) : [...sets, name];
      return el("li", {}, el("span", {}, el("b", {}, title), ` ${size(of([name]) - of([]))}`),
        button(W(on ? "shelf.remove" : "shelf.keep"), () => this.change(next), {class: on ? "run-plain" : "run-main", "aria-label": `${W(on ? "shelf.remove" : "shelf.keep")}: ${title}`}));
    };
    const keepAll = button(W("shelf.keep-all"), () => this.change(all), {class: "run-plain"});
    const every = el("li", {}, el("span", {}, el("b", {}, W("shelf.everything")), ` ${size(of(all))}`),
      all.some((name) => !sets.includes(name)) ? keepAll : null, sets.length ? this.removeAll() : null);
    this.list.replaceChildren(...all.map(row), every);
  }

  /** Asked once more: in the basement nothing could bring it back. */
  removeAll() {
    const ask = (event) => {
      const stay = button(W("cancel"), () => this.draw(), {class: "run-plain"});
      event.target.replaceWith(el("span", {class: "shelf-sure", role: "group", "aria-label": W("shelf.remove-sure")},
        el("b", {}, W("shelf.remove-sure")), button(W("shelf.remove-yes"), () => this.change([]), {class: "run-plain"}), stay));
      stay.focus();
    };
    return button(W("shelf.remove-all"), ask, {class: "run-plain"});
  }

  async change(sets) {
    try {
      this.active = this.active || (await worker());
      this.say.textContent = W("shelf.working");
      const done = await send(this.active, {type: "keep", sets}, ({progress, of}) => { this.say.textContent = W("shelf.progress", {n: progress, of}); });
      this.status = await send(this.active, {type: "status"});
      this.say.textContent = sets.length ? W("shelf.done", {n: done.files}) : W("shelf.removed");
      await revisionsNow(this.store, sets);
      if (sets.length) await this.persist();
    } catch (trouble) {
      const kind = trouble.message.split(" ")[0];
      this.say.textContent = W(`shelf.trouble.${["foreign", "changed", "missing"].includes(kind) ? kind : "other"}`, {what: trouble.message.split(" ")[1] || ""});
    }
    this.draw();
  }

  async persist() {
    if (!navigator.storage || !navigator.storage.persist) return;
    const kept = await navigator.storage.persist();
    if (!kept) this.say.textContent += ` ${W("shelf.may-go")}`;
  }

  async records() {
    const {section, draw} = recordsSection(this.store);
    await draw();
    this.place.append(section);
  }
}
