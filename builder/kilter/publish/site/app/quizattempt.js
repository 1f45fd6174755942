/**
 * What somebody has answered of a paper, as one short line: a platform keeps it, a person can hand it in, and
 * `kilter training mark` reads it. Pure: the same in the page and in tests.
 *
 * k1;module;revision;digest;paper;answers;attempt;state - `digest` is of the questions, so that answers are never
 * read against questions that they were not given to; `answers` has one sign a question, `-` where none was given.
 */
import {sha256} from "./sha256.js";

const ATTEMPT_FORM = "k1";
const RECEIPT_FORM = "KTR1";
export const NO_ANSWER = "-";
export const CHOICE_LETTERS = "ABCDEFGH";

/** Of a paper that nobody has begun. */
export function freshAttempt(paper, attempt = 0) {
  return {paper, answers: paper.questions.map(() => NO_ANSWER), attempt, done: false};
}

/** @returns {string} */
export function attemptCode(quiz, {paper, answers, attempt, done}) {
  return [ATTEMPT_FORM, quiz.module, quiz.revision, quiz.digest, paper.code, answers.join(""), attempt, done ? "done" : "open"].join(";");
}

/** The attempt that a line tells of; "other" where it is of other questions, null where it is none. */
export function readAttempt(quiz, line) {
  const parts = String(line ?? "").split(";");
  if (parts[0] !== ATTEMPT_FORM || parts.length !== 8) return line ? "other" : null;
  const [, module, revision, digest, code, given, attempt, state] = parts;
  const paper = quiz.papers.find((each) => each.code === code);
  if (module !== quiz.module || revision !== quiz.revision || digest !== quiz.digest || !paper) return "other";
  const answers = [...given];
  const known = answers.every((each, n) => each === NO_ANSWER || Number(each) < (paper.questions[n]?.choices.length ?? 0));
  if (!/^[-0-7]*$/.test(given) || answers.length !== paper.questions.length || !known || !/^\d{1,3}$/.test(attempt)) return "other";
  return {paper, answers, attempt: Number(attempt), done: state === "done"};
}

/** Numbers of questions, from 0, that have no answer. */
export const unanswered = ({answers}) => answers.flatMap((each, n) => (each === NO_ANSWER ? [n] : []));

/** Percent rounded down, so that nobody who is short of the mark is shown it; every question of safety must be right. */
export function markAttempt(quiz, {paper, answers}) {
  const right = paper.questions.map((question, n) => answers[n] === String(question.key));
  const count = right.filter(Boolean).length, of = right.length;
  const safety = paper.questions.flatMap((question, n) => (question.safety && !right[n] ? [n] : []));
  const reached = count * 100 >= quiz.passMark * of;
  return {right, count, of, percent: Math.floor((100 * count) / of), reached, safety, passed: reached && safety.length === 0};
}

/** What a trainee hands in where nothing else was recorded; the last eight digits notice a slip of the pen. */
export function receiptLine(quiz, attempt, person, at) {
  const {percent, passed} = markAttempt(quiz, attempt);
  const said = [RECEIPT_FORM, attemptCode(quiz, attempt), person.replace(/[;\s]+/g, " ").trim(), percent, passed ? "passed" : "failed", at].join(";");
  return `${said};${sha256(said).slice(0, 8)}`;
}
