/** Begins where a page holds a plan: offers to work step by step, or to go on where work stopped. */
import {el, button, W} from "./dom.js";
import {Store} from "./store.js";
import {View} from "./view.js";
import {fold, stepsOf} from "./engine.js";
import {Standing} from "./stale.js";
import {waitingRecords} from "./owed.js";
import {handingAhead} from "./later.js";

export async function main() {
  const island = document.getElementById("plan");
  if (!island) return;
  const plan = JSON.parse(island.textContent);
  const store = await Store.open();
  const offer = document.getElementById("run-offer");
  let view = null;
  const counter = async () => {
    const n = await waitingRecords(store), link = document.querySelector('.top a[href="shelf.html"]');
    if (link) link.textContent = n ? W("waiting", {n}) : W("kept-here");
    return offerOf(offer, plan, store, (head) => view.enter(head));
  };
  view = new View(plan, store, counter);
  const runs = await counter();
  window.addEventListener("popstate", () => (location.hash === "#run" ? counter().then(([open]) => view.enter(open)) : view.open && view.leave()));
  if (location.hash === "#run") await view.enter(runs[0]);
  const place = document.getElementById("standing");
  if (place) new Standing(plan, store, place, Number(place.dataset.days)).look();
  globalThis.kilterRun = view;
  handingAhead();
}

/** What can be begun or gone on with; returns the open runs of this very document, the latest first. */
async function offerOf(offer, plan, store, enter) {
  const runs = (await store.runs()).filter((head) => head.kind === "run" && head.document === plan.document);
  const mine = [];
  for (const head of runs.filter((each) => each.hash === plan.hash)) {
    const entries = await store.entries(head.id);
    const state = fold(plan, entries, Date.now());
    if (!state.exit) mine.push({head, state});
  }
  mine.sort((a, b) => b.state.last - a.state.last);
  const others = runs.filter((head) => head.hash !== plan.hash && !head.handed);
  if (offer) {
    const rows = mine.map(({head, state}) => button(W("go-on-with", {asset: head.asset, step: stepsOf(plan).get(state.step)?.number || ""}), () => enter(head), {class: "run-main"}));
    const older = others.map((head) => el("p", {class: "run-older"}, W("older-run", {asset: head.asset, revision: head.revision})));
    offer.replaceChildren(...rows, ...older, button(W("begin"), () => enter(null), {class: rows.length ? "run-plain" : "run-main"}));
    offer.hidden = false;
  }
  return mine.map(({head}) => head);
}

main().finally(() => { delete document.documentElement.dataset.entering; });
