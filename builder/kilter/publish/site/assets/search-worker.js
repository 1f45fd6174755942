// Builds the index once and answers. Exact for anything with a digit, forgiving for words.
"use strict";
importScripts("vendor/minisearch.js");

const MOST = 40;
const COMMON = new Set("a an and are as at be by does for from has in is it its not of on or the to when with".split(" "));
const FIELDS = ["number", "numbers", "symptoms", "title", "synonyms", "parts", "tools", "equipment", "task"];
const BOOST = { number: 8, numbers: 8, symptoms: 6, title: 4, parts: 3, synonyms: 2, tools: 1, equipment: 2, task: 1 };
const digit = (term) => /\d/.test(term);

// LFT-120 in the index is also lft120, lft and 120; in a question it stays whole, so LFT-999 finds nothing.
const whole = (text) => text.normalize("NFC").toLowerCase().match(/[\p{L}\p{N}]+(?:[-.'][\p{L}\p{N}]+)*/gu) ?? [];
const split = (text) => whole(text).flatMap((word) => /[-.']/.test(word)
  ? [word, word.replace(/[-.']/g, ""), ...word.split(/[-.']/)] : [word]);

function stem(term) {
  if (COMMON.has(term)) return null;
  if (digit(term) || term.length < 4) return term;
  const base = term.normalize("NFD").replace(/\p{M}/gu, "").replace(/ies$/, "y").replace(/(?<!s)s$/, "");
  return base.length < 6 ? base.replace(/e$/, "") : base.replace(/(?:ing|ed|e)$/, "");
}

// The index knows a word both whole and by its stem, so that half a word already finds it.
const known = (term) => {
  const base = stem(term);
  return base === null || base === term ? base : [base, term];
};

function read(records) {
  const engine = new MiniSearch({
    idField: "address", fields: FIELDS, tokenize: split, processTerm: known,
    extractField: (record, name) => Array.isArray(record[name]) ? record[name].join("\n") : record[name],
    searchOptions: {
      tokenize: whole, processTerm: stem, boost: BOOST,
      fuzzy: (term) => !digit(term) && term.length > 3 && 0.2,
      prefix: (term) => !digit(term) && term.length > 2,
    },
  });
  engine.addAll(records);
  return { engine, records: new Map(records.map((r) => [r.address, r])) };
}

// All words; else any of them, but what has a digit is never left out.
function find({ engine, records }, question) {
  const filter = ({ id }) => {
    const r = records.get(id);
    return (!question.equipment || r.equipment === question.equipment) && (!question.task || r.task === question.task);
  };
  const words = whole(question.words).filter((w) => stem(w) !== null);
  if (words.length === 0) return { found: [], loose: false };
  const exact = engine.search(words.join(" "), { combineWith: "AND", filter });
  if (exact.length || words.length === 1) return { found: exact, loose: false };
  const numbers = words.filter(digit);
  if (numbers.length) return { found: engine.search(numbers.join(" "), { combineWith: "AND", filter }), loose: true };
  return { found: engine.search(words.join(" "), { combineWith: "OR", filter }), loose: true };
}

// The symptom that matched, by its own words or by its synonyms, which are not shown.
function hit(record, terms) {
  const said = record.symptoms ?? [], also = record.synonyms ?? [];
  const counts = said.map((s, n) => new Set(split(`${s} ${also[n] ?? ""}`).flatMap(known).filter((t) => terms.includes(t))).size);
  const best = counts.indexOf(Math.max(...counts, 1));
  const { address, number, title, equipment, task, revision } = record;
  return { address, number, title, equipment, task, revision, symptom: best < 0 ? "" : said[best] };
}

const ready = fetch("../records.json").then((answer) => {
  if (!answer.ok) throw new Error(`records: ${answer.status}`);
  return answer.json();
}).then((records) => {
  const sorted = (name) => [...new Set(records.map((r) => r[name]).filter(Boolean))].sort();
  postMessage({ choices: { equipment: sorted("equipment"), task: sorted("task") } });
  return read(records);
});
ready.catch(() => postMessage({ failed: true }));

onmessage = async ({ data }) => {
  const library = await ready;
  const { found, loose } = find(library, data);
  const hits = found.slice(0, MOST).map((f) => hit(library.records.get(f.id), f.terms));
  postMessage({ asked: data.asked, words: data.words.trim(), hits, total: found.length, loose: loose && found.length > 0 });
};
