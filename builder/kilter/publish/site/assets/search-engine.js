// The index of the records, made on the phone, and the answers. Exact for anything with a digit, forgiving for words.
"use strict";
globalThis.kilterSearch = globalThis.kilterSearch ?? {};
Object.assign(kilterSearch, (() => {
  const { digit, whole, split, stem, slips, distance, letters, unitTable, valuesOf, matches } = kilterSearch;
  const MOST = 40;
  const BOOST = { number: 8, symptom: 6, title: 4, part: 3, also: 2, equipment: 2, step: 1.5, tool: 1, task: 1 };
  const [ADDRESS, NUMBER, TITLE, REVISION, EQUIPMENT, TASK, SYMPTOMS, NUMBERS, PARTS, TOOLS, STEPS, VALUES] = Array(12).keys();

  // Every text of a field stands once with the rows that have it; every word once with the texts it stands in.
  function note(index, field, text, row) {
    if (!text) return;
    const name = `${field}\n${text}`;
    let entry = index.known.get(name);
    if (!entry) {
      index.known.set(name, entry = { boost: BOOST[field], rows: [] });
      const id = index.texts.push(entry) - 1;
      for (const term of new Set(split(text).flatMap((w) => [w, stem(w, index.file.language)]))) {
        if (!term) continue;
        const list = index.words.get(term);
        if (list) list.push(id);
        else index.words.set(term, [id]);
      }
    }
    if (entry.rows.at(-1) !== row) entry.rows.push(row);
  }

  // What stands in the file of a machine, where there are such files.
  function noteLater(index, row, n) {
    const { texts } = index.file;
    for (const number of row[NUMBERS] ?? []) note(index, "number", number, n);
    for (const part of row[PARTS] ?? []) note(index, "part", texts[part], n);
    for (const tool of row[TOOLS] ?? []) note(index, "tool", texts[tool], n);
    for (const stage of row[STEPS] ?? []) for (const title of stage) note(index, "step", texts[title], n);
    (row[VALUES] ?? []).forEach((value, at) => { if (at % 2) (index.values[value] ??= []).push(n); });
    index.sorted = null;
  }

  function read(file) {
    const index = { file, texts: [], known: new Map(), words: new Map(), sorted: null, bits: [], values: [], unitOf: unitTable(file.units) };
    file.rows.forEach((row, n) => {
      note(index, "number", row[NUMBER], n);
      (row[SYMPTOMS] ?? []).forEach((said, at) => note(index, at % 2 ? "also" : "symptom", said, n));
      note(index, "title", row[TITLE], n);
      note(index, "equipment", file.equipment[row[EQUIPMENT]], n);
      note(index, "task", file.task[row[TASK]], n);
      noteLater(index, row, n);
    });
    return index;
  }

  // Take in the file of a machine; `false` where it does not belong to the first file, as after half an update.
  function add(index, [, equipment, revision], part) {
    const { file } = index, own = [];
    file.rows.forEach((row, n) => { if (row[NUMBER] && row[EQUIPMENT] === equipment) own.push(n); });
    if (part.schema !== "kilter-records-part-1" || part.revision !== revision || part.rows.length !== own.length) return false;
    const text = (n) => n + before.texts, before = { texts: file.texts.length, values: file.values.length };
    file.texts = file.texts.concat(part.texts);
    file.values = file.values.concat(part.values);
    part.rows.forEach(([numbers = [], parts = [], tools = [], steps = [], values = []], at) => {
      const row = file.rows[own[at]];
      for (let n = row.length; n < NUMBERS; n++) row[n] = n === SYMPTOMS ? [] : "";
      Object.assign(row, { [NUMBERS]: numbers, [PARTS]: parts.map(text), [TOOLS]: tools.map(text), [STEPS]: steps.map((stage) => stage.map(text)),
        [VALUES]: values.map((value, n) => (n % 2 ? value + before.values : value)) });
      noteLater(index, row, own[at]);
    });
    return true;
  }

  // Words in order, for what begins with one; made when they are next asked for.
  function inOrder(index) {
    if (!index.sorted) {
      index.sorted = [...index.words.keys()].sort();
      index.bits = null;
    }
    return index.sorted;
  }

  // The words of the index that a word of the question may mean: itself; else what begins with it or is a slip away.
  // Slips are looked for once everything is there: before that, the very word may still come.
  function meant(index, word, whole) {
    const base = stem(word, index.file.language), found = new Map();
    for (const term of new Set([word, base])) if (index.words.has(term)) found.set(term, 1);
    if (digit(word)) return found;
    const sorted = inOrder(index);
    if (word.length > 2) {
      let low = 0, high = sorted.length;
      while (low < high) {
        const middle = (low + high) >> 1;
        if (sorted[middle] < base) low = middle + 1;
        else high = middle;
      }
      for (; sorted[low]?.startsWith(base); low++) if (!found.has(sorted[low])) found.set(sorted[low], 0.6);
    }
    const most = found.size || !whole ? 0 : slips(word);
    if (most === 0) return found;
    const own = letters(base), bits = index.bits ??= sorted.map(letters);
    for (let n = 0; n < sorted.length; n++) {
      let apart = own ^ bits[n], count = 0;
      for (; apart && count <= 2 * most; count++) apart &= apart - 1;
      if (count > 2 * most || digit(sorted[n])) continue;
      const far = distance(base, sorted[n], most);
      if (far <= most) found.set(sorted[n], 0.5 / far);
    }
    return found;
  }

  // Rows with their weight for one word. A word that many rows have says less.
  function rowsOf(index, terms) {
    const rows = new Map();
    for (const [term, likeness] of terms) {
      for (const id of index.words.get(term)) {
        const { boost, rows: having } = index.texts[id];
        for (const row of having) if (!(rows.get(row) >= boost * likeness)) rows.set(row, boost * likeness);
      }
    }
    const rare = Math.log(1 + index.file.rows.length / Math.max(1, rows.size));
    for (const [row, weight] of rows) rows.set(row, weight * rare);
    return rows;
  }

  function rowsOfValue(index, asked) {
    const rows = new Map();
    index.file.values.forEach((value, n) => {
      if (matches(asked, value, index.unitOf)) for (const row of index.values[n] ?? []) rows.set(row, 8);
    });
    return rows;
  }

  const both = (lists) => lists.length === 0 ? new Map() : lists.reduce((one, two) => {
    const kept = new Map();
    for (const [row, weight] of one) if (two.has(row)) kept.set(row, weight + two.get(row));
    return kept;
  });

  function any(lists) {
    const sum = new Map();
    for (const list of lists) for (const [row, weight] of list) sum.set(row, (sum.get(row) ?? 0) + weight);
    return sum;
  }

  // All words; else, once everything is there, any of them, but a value and what has a digit are never left out.
  function find(index, question, complete = true) {
    const { values, rest } = valuesOf(question.words, index.unitOf);
    const words = whole(rest).filter((word) => stem(word, index.file.language));
    const terms = words.map((word) => meant(index, word, complete)), lists = terms.map((t) => rowsOf(index, t));
    const exact = values.map((value) => rowsOfValue(index, value));
    let rows = both([...exact, ...lists]), loose = false;
    if (complete && rows.size === 0 && words.length + values.length > 1) {
      const must = [...exact, ...lists.filter((_, n) => digit(words[n]))];
      rows = must.length ? both(must) : any(lists);
      loose = rows.size > 0;
    }
    const { equipment, task } = question, { file } = index;
    const kept = [...rows].filter(([row]) => (!equipment || file.equipment[file.rows[row][EQUIPMENT]] === equipment)
      && (!task || file.task[file.rows[row][TASK]] === task));
    kept.sort((one, two) => two[1] - one[1] || one[0] - two[0]);
    const close = !loose && terms.some((t) => t.size > 0 && [...t.values()].every((likeness) => likeness <= 0.5));
    const said = new Set(terms.flatMap((t) => [...t.keys()]));
    return { hits: kept.slice(0, MOST).map(([row]) => hit(index, row, said, values)), total: kept.length, loose, close, value: values.length > 0 };
  }

  const count = (text, said, language) => new Set(split(text).flatMap((w) => [w, stem(w, language)]).filter((t) => said.has(t))).size;

  // What a row shows: the symptom that matched, by its own words or by its synonyms, which are not shown; else the step.
  function hit(index, n, said, values) {
    const { file } = index, row = file.rows[n], pairs = row[SYMPTOMS] ?? [];
    const best = { symptom: "", most: 0 };
    for (let at = 0; at < pairs.length; at += 2) {
      const matched = count(`${pairs[at]} ${pairs[at + 1]}`, said, file.language);
      if (matched > best.most) Object.assign(best, { symptom: pairs[at], most: matched });
    }
    let place = "", what = "";
    const list = row[VALUES] ?? [];
    for (let at = 0; at < list.length && !place; at += 2) {
      if (values.some((value) => matches(value, file.values[list[at + 1]], index.unitOf))) [place, what] = [list[at], file.values[list[at + 1]][0]];
    }
    const elsewhere = count([row[TITLE], row[NUMBER], ...(row[NUMBERS] ?? [])].join(" "), said, file.language);
    let most = Math.max(best.most, elsewhere);
    if (!place) (row[STEPS] ?? []).forEach((stage, s) => stage.forEach((title, t) => {
      const matched = count(file.texts[title], said, file.language);
      if (matched > most) [most, place, what] = [matched, `${s + 1}.${t + 1}`, file.texts[title]];
    }));
    const address = row[ADDRESS] || `${row[NUMBER].toLowerCase()}.html`;
    return {
      address: place ? `${address}#${place}` : address, number: row[NUMBER], title: row[TITLE], revision: row[REVISION] ?? "",
      equipment: file.equipment[row[EQUIPMENT]], task: file.task[row[TASK]], symptom: best.symptom, place, what,
    };
  }

  const choices = (file) => ({ equipment: [...file.equipment].sort(), task: [...file.task].sort() });
  return { read, add, find, choices };
})());
