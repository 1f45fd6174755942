/**
 * A run through a document: a list of entries that only grows, and what follows from it.
 *
 * `fold` is pure: the same plan, entries and time give the same state. Nothing is ever taken back: an answer that was
 * wrong is marked by a further entry, and a proof that failed can only be proved again.
 */
import {closed, doubted, refused} from "./answerfit.js";
import {Energy, CHARGED, DEAD, LIVE, PROVED} from "./energy.js";

const EXPOSED = ["opening guards", "rated instrument or release tool", "hands inside", "energised work"];
const PROOF_ENDS = ["away", "stop", "idle", "handover"];

/** @returns {Map<string, object>} the plan's steps by anchor */
export function stepsOf(plan) {
  return new Map(plan.steps.map((step) => [step.anchor, step]));
}

export function stageOf(plan, anchor) {
  return plan.stages.find((stage) => stage.anchor === anchor);
}

class Fold {
  constructor(plan) {
    this.plan = plan;
    this.steps = stepsOf(plan);
    this.energy = new Energy(plan);
    this.state = {
      at: plan.first, after: false, calls: [], exit: "", worker: "", paused: "", again: [], detour: "", detours: [], making: [],
      guardsOff: [], clear: false, tested: [], cautions: [], route: [], last: 0, entries: 0, visit: newVisit(0),
      held: [], revision: "",
    };
    this.arrive(plan.first, 0);
  }

  get step() {
    return this.steps.get(this.state.detour || this.state.at);
  }

  stamp(entry) {
    return {at: timeOf(entry), number: entry.number || ""};
  }

  arrive(anchor, n) {
    const {state} = this;
    state.at = anchor;
    state.after = false;
    state.visit = newVisit(n);
    if (anchor) state.route.push({anchor, n, calls: [...state.calls]});
  }

  /** Go on to a step; into another stage that is no call of this one, what builds up again has built up. */
  go(anchor, n, stamp, boundary = true) {
    const from = this.steps.get(this.state.at), to = this.steps.get(anchor);
    if (boundary && from && to && from.stage !== to.stage) this.energy.boundary(stamp);
    this.arrive(anchor, n);
  }

  /** A link out of a shared stage for good ends the calls that do not lead there. */
  leave(anchor, n, stamp) {
    const {state} = this, to = this.steps.get(anchor);
    const inside = (call) => this.steps.get(call).stage === to.stage;
    const from = this.steps.get(state.at);
    if (from.stage === to.stage || state.calls.length === 0) return this.go(anchor, n, stamp);
    const keep = state.calls.findIndex(inside);
    const home = keep >= 0;
    state.calls = home ? state.calls.slice(0, keep) : [];
    return this.go(anchor, n, stamp, !home);
  }

  back(n, stamp) {
    const {state} = this;
    const caller = state.calls.pop();
    if (!caller) return;
    const step = this.steps.get(caller);
    if (step.exit || step.answers.length) {
      this.arrive(caller, n);
      state.after = true;
      return;
    }
    state.at = caller;
    this.onward(step, n, stamp);
  }

  onward(step, n, stamp) {
    const next = step.goTo || step.next;
    if (next) return this.leave(next, n, stamp);
    return this.state.calls.length ? this.back(n, stamp) : this.arrive("", n);
  }

  /** The step's effects in the order of the policy. */
  work(step, entry, answer) {
    const {energy, state} = this, stamp = this.stamp(entry);
    const before = energy.snapshot();
    if (EXPOSED.includes(step.hands)) {
      state.clear = false;
      state.tested = [];
    }
    const does = Object.fromEntries(step.effects);
    energy.isolate(does.isolates || [], stamp);
    for (const wait of state.visit.waited) energy.wait(wait, stamp);
    state.visit.waited = [];
    energy.release(does.releases || [], stamp);
    const failed = answer ? answer.failed : [];
    if (!failed.length) energy.prove(does.proves || [], stamp);
    else energy.prove((does.proves || []).filter((name) => !failed.includes(name)), stamp);
    energy.restore(does.restores || [], stamp);
    energy.load(does.loads || [], stamp);
    this.guards(does);
    if (!answer || !answer.notOk) state.tested = [...new Set([...state.tested, ...(does.tests || [])])];
    if (does["all-clear"]) state.clear = true;
    if (answer && answer.notZero) {
      const acted = ["isolates", "releases", "proves", "restores", "loads"].flatMap((kind) => does[kind] || []);
      energy.worse(before, acted.filter((name) => !failed.includes(name)), stamp);
      energy.fail(failed.length ? failed : does.proves || [], stamp);
    }
  }

  guards(does) {
    const {state} = this;
    const off = new Set([...state.guardsOff, ...(does.removes || [])]);
    for (const name of does.refits || []) off.delete(name);
    state.guardsOff = this.plan.guards.filter((name) => off.has(name));
  }

  /** One proving step was done again; when all are, the run goes on where it stood. */
  provedAgain(entry) {
    const {state, energy} = this;
    state.again = state.again.filter((name) => energy.now[name].level !== PROVED);
    state.detours = state.detours.filter((anchor) => anchor !== entry.step);
    state.visit = newVisit(Number(entry.n));
    state.detour = state.again.length ? state.detours[0] || "" : "";
    if (!state.detour) this.endDetour();
  }

  endDetour() {
    const {state} = this;
    Object.assign(state, {detour: "", detours: [], again: state.again.filter((name) => !state.making.includes(name)), making: []});
  }

  /** What is not as the step needs it is made so once more, by the steps that did; then the run goes on where it stood. */
  makeSafe(entry) {
    const {state, energy} = this, lost = split(entry.names).filter((name) => name in energy.now);
    state.detours = safeAgain(this.plan, {...state, sources: energy.now}, lost);
    state.detour = state.detours[0] || "";
    if (!state.detour) return;
    state.making = lost;
    state.again = [...new Set([...lost, ...state.again])];
    state.visit = newVisit(Number(entry.n));
  }

  pause(kind) {
    const {state} = this;
    const lost = this.energy.void(kind);
    state.again = [...new Set([...state.again, ...lost])];
    state.paused = kind;
    state.cautions = [];
    state.visit = {...newVisit(state.visit.n), waiting: state.visit.waiting, waited: state.visit.waited};
  }

  resume(entry) {
    const {state, energy} = this, stamp = this.stamp(entry);
    for (const name of split(entry.missing)) {
      if (!(name in energy.now)) continue;
      energy.restore([name], stamp);
      energy.now[name].lost = "unlocked";
      state.again = state.again.filter((each) => each !== name);
    }
    state.paused = "";
    this.endDetour();
    const proving = [...state.route].reverse().map((stop) => stop.anchor)
      .filter((anchor, n, all) => all.indexOf(anchor) === n)
      .filter((anchor) => names(this.steps.get(anchor), "proves").some((name) => state.again.includes(name)));
    const wanted = new Set(state.again), chosen = [];
    for (const anchor of proving) {
      const proves = names(this.steps.get(anchor), "proves").filter((name) => wanted.has(name));
      if (proves.length) chosen.push(anchor);
      proves.forEach((name) => wanted.delete(name));
    }
    const gone = state.route.map((stop) => stop.anchor); // in the order in which they were done
    state.detours = gone.filter((anchor, n) => chosen.includes(anchor) && gone.indexOf(anchor) === n);
    state.detour = state.detours[0] || "";
    state.visit = {...newVisit(Number(entry.n)), waiting: state.visit.waiting, waited: state.visit.waited};
  }

  withdraw(entry, entries) {
    const {state, energy} = this;
    const wrong = entries.find((each) => each.n === entry.entry);
    if (!wrong) return;
    const step = this.steps.get(wrong.step);
    const answer = step.answers[Number(wrong.index)];
    const stamp = this.stamp(entry);
    for (const name of names(step, "proves")) {
      const one = energy.now[name];
      if (answer.failed.includes(name)) one.doubted = true;
      else if (one.level === PROVED) energy.set(name, DEAD, stamp, {lost: "withdrawn"});
    }
    state.tested = state.tested.filter((name) => !names(step, "tests").includes(name));
    const stop = [...state.route].reverse().find((each) => each.anchor === wrong.step && each.n < Number(wrong.n));
    state.exit = "";
    state.calls = stop ? [...stop.calls] : state.calls;
    const after = Boolean(step.do);
    this.arrive(wrong.step, Number(entry.n));
    state.after = after;
  }

  take(entry, entries) {
    const {state, energy} = this, n = Number(entry.n), stamp = this.stamp(entry);
    energy.age(stamp.at, stamp.number);
    state.last = stamp.at;
    state.entries = n;
    const step = this.steps.get(entry.step);
    switch (entry.kind) {
      case "begin": state.worker = entry.worker; break;
      case "caution": state.cautions.push(`${entry.stage}|${entry.words}`); break;
      case "waiting": state.visit.waiting.push({index: entry.index, from: stamp.at, wanted: Number(entry.wanted)}); break;
      case "wait":
        state.visit.waiting = state.visit.waiting.filter((each) => each.index !== entry.index);
        state.visit.waited.push({seconds: Number(entry.waited), at: stamp.at});
        state.visit.over.push(entry.index);
        break;
      case "reading": state.visit.readings[entry.id] = entry; break;
      case "hold": state.visit.hold = entry.initials; break;
      case "done": this.done(step, entry, n, stamp); break;
      case "answer": this.answered(step, entry, n, stamp); break;
      case "withdrawn": this.withdraw(entry, entries); break;
      case "handover":
        this.pause("handover");
        state.worker = entry.to;
        for (const name of split(entry.locksOff)) if (name in energy.now && !split(entry.locksOn).includes(name)) {
          energy.restore([name], stamp);
          energy.now[name].lost = "unlocked";
        }
        break;
      case "revision": state.revision = entry.choice === "go on" ? entry.inForce : state.revision; break;
      case "back": this.resume(entry); break;
      case "safe": this.makeSafe(entry); break;
      case "exit":
        state.exit = entry.exit;
        break;
      default:
        if (PROOF_ENDS.includes(entry.kind)) this.pause(entry.kind);
    }
  }

  done(step, entry, n, stamp) {
    const {state} = this;
    if (step.do && !state.after) {
      state.calls.push(step.anchor);
      const first = this.plan.steps.find((each) => each.stage === step.do);
      return this.go(first.anchor, n, stamp, false);
    }
    if (!state.after) this.work(step, entry, null);
    if (state.detour) return this.provedAgain(entry);
    if (step.exit) {
      state.exit = step.exit;
      return undefined;
    }
    return this.onward(step, n, stamp);
  }

  answered(step, entry, n, stamp) {
    const {state} = this, answer = step.answers[Number(entry.index)];
    if (!state.after) this.work(step, entry, answer);
    if (state.detour) {
      if (!answer.notZero && !answer.notOk) return this.provedAgain(entry);
      const stop = [...state.route].reverse().find((each) => each.anchor === entry.step);
      Object.assign(state, {detour: "", detours: [], again: [], making: [], at: entry.step, calls: stop ? [...stop.calls] : []});
    }
    return answer.back ? this.back(n, stamp) : this.leave(answer.to, n, stamp);
  }
}

function newVisit(n) {
  return {n, waiting: [], waited: [], over: [], readings: {}, hold: ""};
}

export function split(text) {
  return (text || "").split(",").map((name) => name.trim()).filter(Boolean);
}

/** Sources or tests that a step names for a kind of effect. */
export function names(step, kind) {
  return step.effects.filter(([each]) => each === kind).flatMap(([, found]) => found);
}

/** The instant of an entry, in milliseconds; the offset is part of it. */
export function timeOf(entry) {
  return Date.parse(entry.at);
}

/**
 * The state of a run after its entries. `now` (ms) ages what builds up again.
 * @returns {object} where the run stands, what it did to each source, what it still asks for
 */
export function fold(plan, entries, now = 0) {
  const run = new Fold(plan);
  for (const entry of entries) run.take(entry, entries);
  if (now) run.energy.age(now, "");
  const {state, energy} = run;
  const counts = (name) => energy.now[name].held;
  return {
    ...state,
    sources: energy.now,
    held: plan.sources.map((source) => source.name).filter(counts),
    step: state.detour || state.at,
  };
}

/** What keeps a step from being left: a list of [reason, detail]; empty where nothing does. */
export function waitsFor(plan, state, choice = null) {
  const step = stepsOf(plan).get(state.step), found = [];
  if (!step || state.exit) return [["ended", ""]];
  if (state.paused) return [["paused", state.paused]];
  for (const key of cautionsOf(plan, state)) if (!state.cautions.includes(key)) found.push(["caution", key]);
  if (state.after || step.do) return found;
  const lacking = unmet(plan, state);
  const failing = choice !== null && (step.answers[choice].notZero || step.answers[choice].notOk);
  if (lacking.length && EXPOSED.includes(step.hands) && !state.detour && !failing) {
    found.push(...lacking.map((name) => ["state", name]));
  }
  step.waits.forEach((wait, n) => {
    if (!state.visit.over.includes(String(n)) && !failing) found.push(["wait", String(n)]);
  });
  if (step.hold && !state.visit.hold) found.push(["hold", step.hold]);
  if (!failing) found.push(...readingTrouble(step, state, choice));
  return found;
}

function readingTrouble(step, state, choice) {
  const {readings: taken} = state.visit;
  const found = step.readings.filter((reading) => !taken[reading.id]).map((reading) => ["reading", reading.id]);
  if (choice === null) return found;
  const bad = refused(step.answers, choice, taken);
  if (bad) found.push(["verdict", bad]);
  else if (closed(step.answers, taken).includes(choice)) found.push(["fits", step.answers[choice].fits.limits[0][0]]);
  return found;
}

/** The reading because of which an answer is asked about once more; "" where it counts at once. */
export function doubt(plan, state, choice) {
  const step = stepsOf(plan).get(state.step);
  return state.after ? "" : doubted(step.answers, choice, state.visit.readings);
}

/** Keys of the cautions that are read before a step: its stage's and its own. */
export function cautionsOf(plan, state) {
  const step = stepsOf(plan).get(state.step);
  if (!step || state.after) return [];
  const stage = stageOf(plan, step.stage);
  const found = stage.caution ? [`${stage.anchor}|${stage.caution}`] : [];
  return step.caution ? [...found, `${step.anchor}|${step.caution}`] : found;
}

const NEEDED = {"proved zero": PROVED, "released": DEAD, "released, not yet proved": DEAD, "isolated": CHARGED,
  "isolated, still charged": CHARGED, "never cut off": LIVE};

/** Names of sources that are not as the step needs them, by what this run recorded. */
export function unmet(plan, state) {
  const step = stepsOf(plan).get(state.step);
  return (step ? step.must : []).filter(([name, word]) => state.sources[name].level < (NEEDED[word] || 0)).map(([name]) => name);
}

/**
 * Steps of this run that make sources safe once more, in the order in which they were done: what isolates, drains,
 * releases and proves them and what feeds them, where that is live too. Never one that gives power or ends the run.
 */
export function safeAgain(plan, state, lost) {
  const wanted = new Set(lost), of = (name) => plan.sources.find((source) => source.name === name);
  for (const name of wanted) for (const feed of of(name).feeds) if (state.sources[feed].level === LIVE) wanted.add(feed);
  const steps = stepsOf(plan), gone = [...new Set(state.route.map((stop) => stop.anchor))].map((anchor) => steps.get(anchor)).filter(Boolean);
  const acts = (step, kind, among) => names(step, kind).some((name) => among.has(name));
  const found = gone.filter((step) => !step.exit && !names(step, "restores").length && (acts(step, "isolates", wanted)
    || acts(step, "releases", wanted) || acts(step, "proves", new Set([...wanted, ...state.again]))));
  const drains = [...wanted].some((name) => of(name).bleed && !of(name).action), stages = new Set(found.map((step) => step.stage));
  return gone.filter((step) => found.includes(step) || (drains && step.waits.length && stages.has(step.stage))).map((step) => step.anchor);
}

/** Lockable sources that nobody holds: what to lock first when work stops here. */
export function unlocked(plan, state) {
  return plan.sources.filter((source) => source.lockable && !state.sources[source.name].held).map((source) => source.name);
}

/** The first step that makes a source what it has to be: where to begin when it is not; one that ends the run comes last. */
export function startFor(plan, name) {
  const kinds = ["isolates", "releases", "proves"];
  const source = plan.sources.find((each) => each.name === name);
  const wanted = [name, ...source.feeds];
  const makes = (each) => kinds.some((kind) => names(each, kind).some((found) => wanted.includes(found)));
  const step = plan.steps.find((each) => !each.exit && makes(each)) || plan.steps.find(makes);
  return step ? step.anchor : "";
}
