/** Papers drawn as Python's `questions/draw.py` and `questions/paper.py` draw them: same bank, same lots, same paper. */
import { sha256 } from "./sha256.js";

const LETTERS = "ABCDEFGH";

/** 64 hex digits of the parts, joined. @param {...(string|number)} parts @returns {string} */
export function lotDigest(...parts) {
  return sha256(parts.join("|"));
}

/** A stream of lots. @param {...(string|number)} seed */
export function lots(...seed) {
  const base = lotDigest(...seed);
  let block = "";
  let next = 0;
  /** @param {number} count @returns {number} a whole number from 0 to count - 1 */
  const below = (count) => {
    const most = Math.floor(2 ** 32 / count) * count;
    for (;;) {
      if (!block) block = sha256(`${base}|${next++}`);
      const drawn = parseInt(block.slice(0, 8), 16);
      block = block.slice(8);
      if (drawn < most) return drawn % count;
    }
  };
  /** Fisher and Yates, from the end. @template T @param {T[]} items @returns {T[]} */
  const shuffled = (items) => {
    const found = [...items];
    for (let n = found.length - 1; n > 0; n--) {
      const other = below(n + 1);
      [found[n], found[other]] = [found[other], found[n]];
    }
    return found;
  };
  return { below, shuffled };
}

/**
 * One form of a paper.
 * @param {{id: string, kind: string, fact: string, stem: string, choices: object[], key: number, safety: boolean, ranked: boolean,
 *   objectives: string[]}[]} bank
 * @param {{module: string, revision: string, objectives: string[], questions: number}} plan
 * @param {string} form @param {number} serial
 * @returns {{code: string, questions: object[]}}
 */
export function drawnPaper(bank, plan, form, serial) {
  const seed = (letter) => ["paper", plan.module, plan.revision, letter, serial];
  const used = new Set();
  let chosen = [];
  for (const letter of LETTERS.slice(0, LETTERS.indexOf(form) + 1)) {
    chosen = chosenFor(bank, plan, seed(letter), used);
    for (const question of chosen) used.add(question.id);
  }
  const own = seed(form);
  const place = new Map(chosen.map((q) => [q.id, lotDigest(...own, "place", q.id)]));
  const shown = shownAs([...chosen].sort((a, b) => (place.get(a.id) < place.get(b.id) ? -1 : 1)), own);
  const asked = shown.flatMap((q) => [q.id, q.key, q.stem, ...q.choices.map((c) => c.text)]);
  const drawn = lotDigest(...own, ...asked).slice(0, 6).toUpperCase();
  return { code: `${plan.module}-${plan.revision}-${form}${serial}-${drawn}`, questions: shown };
}

function chosenFor(bank, plan, seed, used) {
  const lot = new Map(bank.map((q) => [q.id, lotDigest(...seed, q.id)]));
  const asked = new Map(plan.objectives.map((name) => [name, 0]));
  const kinds = new Map();
  const found = [];
  let left = [...bank];
  while (left.length && found.length < plan.questions) {
    const able = plan.objectives.filter((name) => left.some((q) => q.objectives.includes(name)));
    const objective = able.reduce((best, name) => (asked.get(name) < asked.get(best) ? name : best), able[0]);
    const first = objective !== undefined && asked.get(objective) === 0;
    const rank = (q) => [first && !q.safety ? 1 : 0, used.has(q.id) ? 1 : 0, kinds.get(q.kind) ?? 0, lot.get(q.id)];
    const ofIt = left.filter((q) => objective === undefined || q.objectives.includes(objective));
    const taken = ofIt.reduce((best, q) => (isBefore(rank(q), rank(best)) ? q : best));
    found.push(taken);
    kinds.set(taken.kind, (kinds.get(taken.kind) ?? 0) + 1);
    for (const name of taken.objectives) if (asked.has(name)) asked.set(name, asked.get(name) + 1);
    left = left.filter((q) => q.fact !== taken.fact);
  }
  return found;
}

function isBefore(one, two) {
  const at = one.findIndex((value, n) => value !== two[n]);
  return at >= 0 && one[at] < two[at];
}

/** Choices without a size are put so that the right ones spread evenly over the places. */
function shownAs(chosen, seed) {
  const places = new Map();
  const count = (key) => places.get(key) ?? 0;
  for (const question of chosen) if (question.ranked) places.set(question.key, count(question.key) + 1);
  return chosen.map((question) => {
    if (question.ranked) return question;
    const { below, shuffled } = lots(...seed, "choices", question.id);
    const wrong = shuffled(question.choices.filter((_, n) => n !== question.key));
    const fewest = Math.min(...question.choices.map((_, n) => count(n)));
    const free = question.choices.map((_, n) => n).filter((n) => count(n) === fewest);
    const key = free[below(free.length)];
    places.set(key, count(key) + 1);
    const choices = [...wrong.slice(0, key), question.choices[question.key], ...wrong.slice(key)];
    return { ...question, choices, key };
  });
}
