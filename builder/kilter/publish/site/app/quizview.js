/** The screens of a paper: before it, question by question, before handing in, the result. */
import {button, el} from "./dom.js";
import {localTime} from "./clock.js";
import {attemptCode, freshAttempt, markAttempt, readAttempt, receiptLine, unanswered} from "./quizattempt.js";
import {Q, feedback, questionForm} from "./quizparts.js";

/** Which paper somebody gets: neighbours mostly get different ones, and the same person the same one again. */
function paperFor(quiz, person, attempt) {
  const sum = [...person].reduce((all, sign) => (all * 31 + (sign.codePointAt(0) ?? 0)) % 65521, 0);
  const draw = person ? sum : Math.floor(Math.random() * quiz.papers.length);
  return quiz.papers[(draw + attempt) % quiz.papers.length];
}

export class QuizView {
  constructor(root, quiz, platform, copy) {
    Object.assign(this, {root, quiz, platform, copy, at: 0, stored: false, person: ""});
  }

  async begin() {
    this.recorded = !this.quiz.practice && this.platform.start();
    this.person = this.platform.person;
    let saved = this.platform.saved;
    if (!this.platform.open && !this.quiz.practice) [saved, this.person = ""] = ((await this.copy.read()) ?? "").split("|");
    const found = readAttempt(this.quiz, saved);
    this.attempt = found && found !== "other" ? found : freshAttempt(paperFor(this.quiz, this.person, 0));
    this.stored = this.attempt.done && this.recorded;
    if (this.attempt.done) { this.result(); return; }
    const first = this.attempt.answers.indexOf("-");
    this.at = first < 0 ? this.attempt.answers.length - 1 : first;
    this.start(found);
  }

  show(title, ...inside) {
    const heading = el("h2", {tabindex: "-1"}, title);
    this.root.replaceChildren(heading, ...inside.flat().filter(Boolean));
    if (this.shown) { heading.focus(); heading.scrollIntoView(); }
    this.shown = true;
  }

  start(found) {
    const {quiz} = this, of = this.attempt.paper.questions.length;
    const standing = quiz.practice ? "practice" : this.recorded ? "recorded" : this.platform.open ? "looking" : "not-recorded";
    const code = el("input", {type: "text", maxlength: 20, autocomplete: "off", autocapitalize: "characters", value: this.person});
    const needed = !this.platform.open && !quiz.practice;
    code.required = needed;
    const go = () => {
      code.value = code.value.replace(/[;|\s]+/g, " ").trim();
      if (needed && !code.reportValidity()) return;
      if (needed) this.person = code.value;
      this.question();
    };
    this.show(quiz.practice ? Q("practice-title") : Q("before", {form: this.attempt.paper.form}),
      el("p", {}, Q("intro", {n: of})),
      el("p", {}, Q("to-pass", {percent: quiz.passMark})),
      el("p", {class: "quiz-note"}, Q(standing)),
      found === "other" ? el("p", {class: "quiz-note", role: "status"}, Q("other")) : null,
      !needed ? null : el("label", {class: "quiz-field"}, el("span", {}, Q("person")), code),
      this.controls(button(Q(found && found !== "other" ? "go-on" : "begin"), go, {class: "quiz-main"})));
  }

  controls(...buttons) { return el("div", {class: "quiz-controls"}, ...buttons); }

  question() {
    const {paper, answers} = this.attempt, question = paper.questions[this.at], of = paper.questions.length;
    const note = el("div", {role: "status"});
    const chosen = (n) => {
      answers[this.at] = String(n);
      this.keep();
      if (this.quiz.practice) note.replaceChildren(feedback(question, answers[this.at]));
    };
    const last = this.at === of - 1;
    this.show(Q("question", {n: this.at + 1, of}),
      question.safety ? el("p", {class: "quiz-safety"}, Q("safety")) : null,
      questionForm(question, answers[this.at], chosen),
      note,
      this.controls(
        this.at ? button(Q("back"), () => { this.at--; this.question(); }) : null,
        button(Q(last ? "to-the-end" : "next"), () => { if (last) this.before(); else { this.at++; this.question(); } }, {class: "quiz-main"})));
  }

  async keep() {
    const code = attemptCode(this.quiz, this.attempt);
    if (this.recorded) this.stored = this.platform.keep(code, this.at);
    if (!this.quiz.practice) await this.copy.write(`${code}|${this.person}`);
  }

  before() {
    const open = unanswered(this.attempt);
    const jump = (n) => button(String(n + 1), () => { this.at = n; this.question(); }, {"aria-label": Q("question", {n: n + 1, of: this.attempt.answers.length})});
    this.show(Q("hand-in-title"),
      open.length ? [el("p", {}, Q("unanswered")), el("div", {class: "quiz-jumps"}, open.map(jump))] : el("p", {}, Q("all-answered")),
      this.controls(button(Q("back"), () => this.question()), button(Q("hand-in"), () => this.handIn(), {class: "quiz-main"})));
  }

  handIn() {
    this.attempt.done = true;
    this.at = this.attempt.answers.length - 1;
    if (this.recorded) this.platform.result(this.quiz, this.attempt, markAttempt(this.quiz, this.attempt));
    this.keep();
    this.result();
  }

  result() {
    const {quiz, attempt} = this, mark = markAttempt(quiz, attempt);
    const why = mark.passed ? [] : [
      mark.reached ? null : Q("too-few", {percent: quiz.passMark}),
      mark.safety.length ? Q("safety-wrong", {numbers: mark.safety.map((n) => n + 1).join(", ")}) : null];
    this.show(Q(mark.passed ? "passed" : "failed"),
      el("p", {class: "quiz-score"}, Q("score", mark)),
      why.filter(Boolean).map((words) => el("p", {class: "quiz-note"}, words)),
      quiz.practice ? null : this.receipt(),
      mark.passed && !quiz.practice ? null : this.controls(button(Q("again"), () => this.again(), {})),
      el("h3", {}, Q("question-by-question")),
      el("ol", {class: "quiz-answers"}, attempt.paper.questions.map((question, n) => el("li", {}, el("p", {class: "quiz-stem"}, question.stem), feedback(question, attempt.answers[n])))));
  }

  receipt() {
    const line = receiptLine(this.quiz, this.attempt, this.person, localTime());
    const save = () => {
      const link = el("a", {href: URL.createObjectURL(new Blob([`${line}\n`], {type: "text/plain"})), download: `${this.quiz.module.toLowerCase()}-receipt.txt`});
      link.click();
      setTimeout(() => URL.revokeObjectURL(link.href), 1000);
    };
    const again = () => { this.stored = this.platform.keep(attemptCode(this.quiz, this.attempt), this.at); this.result(); };
    return el("section", {class: "quiz-receipt"},
      el("p", {role: "status"}, Q(this.recorded ? (this.stored ? "stored" : "not-stored") : this.platform.open ? "looking" : "not-recorded")),
      this.recorded && !this.stored ? button(Q("send-again"), again) : null,
      el("h3", {}, Q("receipt")), el("p", {}, Q("receipt-why")), el("p", {class: "quiz-line"}, el("code", {}, line)),
      button(Q("receipt-save"), save));
  }

  again() {
    const next = this.attempt.attempt + 1;
    this.attempt = freshAttempt(paperFor(this.quiz, this.person, next), next);
    this.platform.again();
    this.at = 0;
    this.keep();
    this.question();
  }
}
