/** Is this page the revision in force? Asked when it opens, when the phone is back online, and every few minutes. */
import {el, W, clockOf} from "./dom.js";
import {localTime} from "./clock.js";

const LIST = "kilter-revisions-1", SPLIT = "kilter-revisions-split-1", LIMIT = 5000, EVERY = 4 * 60 * 1000;

/** @returns {Promise<object|null>} a list of the server; null without a connection or where somebody else answers */
async function askedList(address) {
  if (location.protocol === "file:") return null;
  try {
    const got = await fetch(address, {cache: "no-store", redirect: "error", signal: AbortSignal.timeout(LIMIT)});
    const data = got.ok ? await got.json() : null;
    return data && [LIST, SPLIT].includes(data.schema) ? data : null;
  } catch {
    return null;
  }
}

/**
 * What is known of a page: `current`, `other`, `changed`, `withdrawn`; offline `kept`, `kept-other`, `kept-withdrawn`,
 * `unchecked`; `clock` where the phone's clock stands before the last look.
 */
export function standing(plan, list, online, at, now) {
  if (!list) return {kind: "unchecked", inForce: ""};
  const entry = list.documents[plan.document];
  const kind = !entry ? "withdrawn" : entry.hash === plan.hash ? "current" : entry.revision === plan.revision ? "changed" : "other";
  const inForce = entry ? entry.revision : "";
  if (online) return {kind, inForce, at};
  if (kind === "current") return {kind: at > now + 60000 ? "clock" : "kept", inForce, at};
  return {kind: kind === "withdrawn" ? "kept-withdrawn" : "kept-other", inForce, at};
}

/**
 * Ask what is in force for some machines and remember it with the time; a large library has a list for each.
 * @returns {Promise<object|null>} the list of the last of them
 */
export async function revisionsNow(store, machines) {
  const first = await askedList("revisions.json");
  if (!first) return null;
  const keep = (name, list) => store.keep(name, {list, at: Date.now()}).catch(() => {});
  if (first.schema === LIST) {
    await keep("revisions", first);
    return first;
  }
  let list = null;
  for (const machine of machines) {
    list = first.machines.includes(machine) ? await askedList(`revisions/${encodeURIComponent(machine)}.json`) : {schema: LIST, documents: {}};
    if (list) await keep(`revisions ${machine}`, list);
  }
  return list;
}

/** What was last heard of a machine's documents, with the time; undefined where nothing was. */
async function lastHeard(store, machine) {
  const found = await Promise.all(["revisions", `revisions ${machine}`].map((name) => store.kept(name).catch(() => null)));
  return found.filter(Boolean).sort((one, two) => two.at - one.at)[0];
}

export const BAD = ["other", "changed", "withdrawn", "kept-other", "kept-withdrawn"];

export class Standing {
  constructor(plan, store, place, days) {
    Object.assign(this, {plan, store, place, days, now: {kind: "unchecked", inForce: ""}});
    const look = () => this.look();
    window.addEventListener("online", look);
    document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && look());
    setInterval(look, EVERY);
  }

  async look() {
    const got = await revisionsNow(this.store, [this.plan.equipment]);
    const known = got ? {list: got, at: Date.now()} : await lastHeard(this.store, this.plan.equipment);
    this.now = standing(this.plan, known && known.list, Boolean(got), known ? known.at : 0, Date.now());
    this.draw();
    document.dispatchEvent(new CustomEvent("kilter:revision", {detail: {...this.now, mine: this.plan.revision}}));
    return this.now;
  }

  get old() {
    const {at} = this.now;
    return this.now.kind === "kept" && Date.now() - at > this.days * 86400000;
  }

  draw() {
    const {kind, inForce, at} = this.now, bad = BAD.includes(kind);
    document.documentElement.dataset.standing = bad ? "old" : this.old ? "unsure" : kind;
    const when = at ? `${localTime(new Date(at)).slice(0, 10)} ${clockOf(at)}` : "";
    const words = W(`standing.${this.old ? "too-long" : kind}`, {revision: this.plan.revision, inForce, when, days: this.days});
    const more = kind === "other" || kind === "changed" ? el("a", {href: location.pathname, class: "run-renew"}, W("standing.renew")) : null;
    this.place.replaceChildren(el("p", {}, words), ...(more ? [more] : []));
    this.place.hidden = kind === "current";
    this.place.className = bad || this.old || kind === "clock" ? "standing-note bad" : "standing-note";
  }
}
