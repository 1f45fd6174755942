/**
 * Which answers of a step contradict what was read: the same as `compute/answerfit.py`, where it is explained.
 * `taken` has the last of each reading by its id.
 */
import {compare, decimal} from "./decimal.js";

const NO_PASS = ["fail", "too close to call"];

/** @returns {boolean|null} whether an answer is true of what was read; null where its words or the readings don't say */
export function agrees(fits, taken) {
  if (!fits) return null;
  const found = fits.limits.map((limit) => within(limit, taken)), unsure = found.includes(null);
  if (fits.inside) return found.includes(false) ? false : unsure ? null : true;
  return found.includes(false) ? true : unsure ? null : false;
}

function within([of, low, high, lowItself, highItself], taken) {
  const reading = taken[of];
  if (!reading || reading.verdict === "too close to call") return null;
  const value = decimal(reading.value);
  const above = low ? compare(value, decimal(low)) : 1, below = high ? compare(value, decimal(high)) : -1;
  return (above > 0 || (above === 0 && lowItself)) && (below < 0 || (below === 0 && highItself));
}

export const marked = (answer) => answer.notZero || answer.notOk;

/** The reading because of which a sound answer can't be chosen, by the marks alone; "" where there is none. */
export function refused(answers, index, taken) {
  if (marked(answers[index]) || !answers.some(marked)) return "";
  const bad = Object.entries(taken).find(([, reading]) => reading.phase !== "as found" && NO_PASS.includes(reading.verdict));
  return bad ? bad[0] : "";
}

/** Answers that can't be chosen because their words contradict the readings; never one marked as failing, never all. */
export function closed(answers, taken) {
  const found = answers.flatMap((answer, n) => (!marked(answer) && agrees(answer.fits, taken) === false ? [n] : []));
  return answers.some((_, n) => !found.includes(n) && !refused(answers, n, taken)) ? found : [];
}

/** The reading because of which an answer is asked about once more before it counts; "" where there is none. */
export function doubted(answers, index, taken) {
  const answer = answers[index], agreed = agrees(answer.fits, taken);
  if (agreed === false) return answer.fits.limits[0][0];
  if (agreed !== null || marked(answer)) return "";
  const bad = Object.entries(taken).find(([, reading]) => NO_PASS.includes(reading.verdict));
  return bad ? bad[0] : "";
}
