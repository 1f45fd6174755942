/**
 * The learning platform, by SCORM 1.2 - or none. Nothing it answers proves that a result was stored, so the page
 * shows a receipt besides; what it does say is told. `masteryscore` is not used: platforms overwrite with it.
 */
import {CHOICE_LETTERS, NO_ANSWER} from "./quizattempt.js";

const LONGEST_CLIMB = 500;
/** What is passed stays passed: opened again, the paper is only looked at. */
const PASSED = ["passed", "completed"];
const ENDED = [...PASSED, "failed"];

function climb(from) {
  try {
    let place = from;
    for (let n = 0; n < LONGEST_CLIMB && place; n++) {
      if (place.API) return place.API;
      if (place.parent === place) return null;
      place = place.parent;
    }
  } catch { /* another origin: nothing of ours there */ }
  return null;
}

/** The platform's object: in a frame above, or where this window was opened from. */
export function findPlatform(start) {
  const found = climb(start);
  if (found) return found;
  try { return start.opener ? climb(start.opener) : null; } catch { return null; }
}

const two = (n) => String(n).padStart(2, "0");

/** HHHH:MM:SS.SS */
export function spanOf(milliseconds) {
  const hundredths = Math.max(0, Math.round(milliseconds / 10)), seconds = Math.floor(hundredths / 100);
  const hours = Math.min(9999, Math.floor(seconds / 3600));
  return `${String(hours).padStart(4, "0")}:${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}.${two(hundredths % 100)}`;
}

export class Platform {
  /** @param api the platform's object, or null */
  constructor(api) {
    this.api = api;
    this.open = false;
    this.began = Date.now();
    this.saved = this.person = this.status = "";
  }

  /** Whether results are recorded there. */
  start() {
    if (!this.api || !this.#yes(() => this.api.LMSInitialize(""))) return false;
    this.open = true;
    const mode = this.#get("cmi.core.lesson_mode");
    [this.person, this.saved, this.status] = ["cmi.core.student_id", "cmi.suspend_data", "cmi.core.lesson_status"].map((name) => this.#get(name));
    this.recording = mode !== "browse" && mode !== "review" && !PASSED.includes(this.status);
    if (this.recording && !ENDED.includes(this.status)) {
      this.#set("cmi.core.lesson_status", "incomplete");
      this.#commit();
    }
    return this.recording;
  }

  /** After a result: begin again. */
  again() {
    if (!this.#may()) return;
    this.#set("cmi.core.lesson_status", "incomplete");
    this.status = "incomplete";
  }

  /** @returns {boolean} whether it says that the answers so far are stored */
  keep(code, at) {
    if (!this.#may()) return false;
    this.#set("cmi.suspend_data", code);
    this.#set("cmi.core.lesson_location", String(at + 1));
    return this.#commit();
  }

  /** The answers one by one, then score and status together; the numbers follow on whatever was there. */
  result(quiz, attempt, mark) {
    if (!this.#may()) return;
    const said = this.#get("cmi.interactions._count");
    const first = /^\d+$/.test(said) ? Number(said) : attempt.attempt * attempt.paper.questions.length;
    attempt.paper.questions.forEach((question, n) => this.#answer(`cmi.interactions.${first + n}`, question, attempt.answers[n]));
    this.#set("cmi.core.score.min", "0");
    this.#set("cmi.core.score.max", "100");
    this.#set("cmi.core.score.raw", String(mark.percent));
    this.status = mark.passed ? "passed" : "failed";
    this.#set("cmi.core.lesson_status", this.status);
  }

  #answer(place, question, given) {
    this.#set(`${place}.id`, question.wire);
    this.#set(`${place}.type`, "choice");
    question.aims.slice(0, 1).forEach((id) => this.#set(`${place}.objectives.0.id`, id));
    this.#set(`${place}.correct_responses.0.pattern`, CHOICE_LETTERS[question.key].toLowerCase());
    this.#set(`${place}.weighting`, "1");
    if (given !== NO_ANSWER) this.#set(`${place}.student_response`, CHOICE_LETTERS[Number(given)].toLowerCase());
    this.#set(`${place}.result`, given === String(question.key) ? "correct" : "wrong");
  }

  /** Once, when the page goes. */
  leave(done) {
    if (!this.open) return;
    if (this.recording) {
      this.#set("cmi.core.exit", done ? "" : "suspend");
      this.#set("cmi.core.session_time", spanOf(Date.now() - this.began));
      this.#commit();
    }
    this.open = false;
    this.#yes(() => this.api.LMSFinish(""));
  }

  #may() { return this.open && this.recording; }
  #get(name) { try { return String(this.api.LMSGetValue(name) ?? ""); } catch { return ""; } }
  #set(name, value) { return this.#yes(() => this.api.LMSSetValue(name, value)); }
  #commit() { return this.#yes(() => this.api.LMSCommit("")); }
  #yes(ask) { try { return String(ask()) === "true"; } catch { return false; } }
}
