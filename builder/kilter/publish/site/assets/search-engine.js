// The index of the records, made on the phone, and the answers. Exact for anything with a digit, forgiving for words.
"use strict";
globalThis.kilterSearch = globalThis.kilterSearch ?? {};
Object.assign(kilterSearch, (() => {
  const { digit, whole, pieces, stem, slips, distance, letters, unitTable, valuesOf, matches } = kilterSearch;
  const MOST = 40;
  const BOOST = { number: 8, symptom: 6, title: 4, part: 3, also: 2, equipment: 2, step: 1.5, tool: 1, task: 1 };
  const [, NUMBER, TITLE, , EQUIPMENT, TASK, SYMPTOMS, NUMBERS] = Array(8).keys(); // as `ROW` of records.py

  // The words that a word is found by. Those with a digit are mostly there once: what they are cut into is not kept.
  const memory = new Map();
  function termsOf(word, language) {
    if (digit(word)) return pieces(word);
    let terms = memory.get(word);
    if (!terms) memory.set(word, terms = [...new Set(pieces(word).flatMap((w) => [w, stem(w, language)]).filter(Boolean))]);
    return terms;
  }

  // Every word stands once with the texts it is in: the place of one text, or a list where there are more.
  function noteWords(index, text, id) {
    for (const word of whole(text)) {
      for (const term of termsOf(word, index.file.language)) {
        const had = index.words.get(term);
        if (had === undefined) index.words.set(term, id);
        else if (typeof had === "number") had === id || index.words.set(term, [had, id]);
        else if (had[had.length - 1] !== id) had.push(id);
      }
    }
    index.sorted = null;
  }

  const idsOf = (index, term) => [index.words.get(term)].flat();

  // A text of a field with the rows that have it.
  function enter(index, field, text, rows = []) {
    const entry = { boost: BOOST[field], rows };
    noteWords(index, text, index.texts.push(entry) - 1);
    return entry;
  }

  function entryOf(index, field, text) {
    const name = `${field}\n${text}`;
    let entry = index.known.get(name);
    if (!entry) index.known.set(name, entry = enter(index, field, text));
    return entry;
  }

  function put(entry, row) {
    if (entry.rows.at(-1) !== row) entry.rows.push(row);
  }

  // A row's list that stands in the pool of its file: which entries it means is found out once.
  function putList(index, pool, field, list, row) {
    const known = pool.entries[field] ??= [], { texts, lists } = pool;
    known[list] ??= field === "step" ? lists[list].flatMap((stage) => lists[stage].map((t) => entryOf(index, field, texts[t])))
      : lists[list].map((t, at) => entryOf(index, field === "symptom" && at % 2 ? "also" : field, texts[t]));
    for (const entry of known[list]) put(entry, row);
  }

  // What every document is called and is for; the rest of a large library comes by and by, see `later` and `add`.
  function read(file) {
    const index = { file, texts: [], known: new Map(), words: new Map(), sorted: null, bits: null, pools: [file], own: [], done: 0, unitOf: unitTable(file.units) };
    Object.assign(file, { entries: {}, valueRows: [] });
    const { columns, equipment, task } = file;
    let before = "";
    columns[NUMBER] = columns[NUMBER].map((rest) => (before = before.slice(0, parseInt(rest[0], 36)) + rest.slice(1)));
    const machines = equipment.map((name) => entryOf(index, "equipment", name)), tasks = task.map((name) => entryOf(index, "task", name));
    columns[NUMBER].forEach((number, n) => {
      if (number) enter(index, "number", number, [n]);
      enter(index, "title", columns[TITLE][n], [n]);
      put(machines[columns[EQUIPMENT][n]], n);
      put(tasks[columns[TASK][n]], n);
      putList(index, file, "symptom", columns[SYMPTOMS][n], n);
    });
    return index;
  }

  function noteLater(index, pool, [numbers, parts, tools, steps, values], at, row) {
    for (const number of numbers[at]) put(entryOf(index, "number", number), row);
    putList(index, pool, "part", parts[at], row);
    putList(index, pool, "tool", tools[at], row);
    putList(index, pool, "step", steps[at], row);
    pool.lists[values[at]].forEach((value, n) => { if (n % 2) (pool.valueRows[value] ??= []).push(row); });
  }

  // What the first file says besides, for about so many ms; `true` when all of it was taken in.
  function later(index, most) {
    const until = performance.now() + most, { file } = index, rest = file.columns.slice(NUMBERS), all = file.columns[NUMBER].length;
    for (; index.done < all; index.done++) {
      if (index.done % 64 === 63 && performance.now() > until) break;
      noteLater(index, file, rest, index.done, index.done);
    }
    return index.done === all;
  }

  // Take in the file of a machine; `false` where it does not belong to the first file, as after half an update.
  function add(index, [, equipment, revision], part) {
    const { columns } = index.file, own = [];
    columns[NUMBER].forEach((number, n) => { if (number && columns[EQUIPMENT][n] === equipment) own.push(n); });
    if (part.schema !== "kilter-records-part-1" || part.revision !== revision || part.columns[0].length !== own.length) return false;
    index.pools.push(Object.assign(part, { entries: {}, valueRows: [] }));
    own.forEach((row, at) => {
      index.own[row] = { pool: part, columns: part.columns, at };
      noteLater(index, part, part.columns, at, row);
    });
    return true;
  }

  // What stands from `numbers` on in a row, with words for places.
  function restOf(index, n) {
    const { pool, columns, at } = index.own[n] ?? { pool: index.file, columns: index.file.columns.slice(NUMBERS), at: n };
    const [numbers, , , steps, values] = columns.map((column) => column[at]);
    return { numbers, steps: pool.lists[steps].map((stage) => pool.lists[stage].map((t) => pool.texts[t])),
      values: pool.lists[values].map((value, place) => (place % 2 ? pool.values[value] : value)) };
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
      for (const id of idsOf(index, term)) {
        const { boost, rows: having } = index.texts[id];
        for (const row of having) if (!(rows.get(row) >= boost * likeness)) rows.set(row, boost * likeness);
      }
    }
    const rare = Math.log(1 + index.file.columns[NUMBER].length / Math.max(1, rows.size));
    for (const [row, weight] of rows) rows.set(row, weight * rare);
    return rows;
  }

  function rowsOfValue(index, asked) {
    const rows = new Map();
    for (const { values, valueRows } of index.pools) {
      values.forEach((value, n) => {
        if (matches(asked, value, index.unitOf)) for (const row of valueRows[n] ?? []) rows.set(row, 8);
      });
    }
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
    const { columns } = file;
    const kept = [...rows].filter(([row]) => (!equipment || file.equipment[columns[EQUIPMENT][row]] === equipment)
      && (!task || file.task[columns[TASK][row]] === task));
    kept.sort((one, two) => two[1] - one[1] || one[0] - two[0]);
    const close = !loose && terms.some((t) => t.size > 0 && [...t.values()].every((likeness) => likeness <= 0.5));
    const said = new Set(terms.flatMap((t) => [...t.keys()]));
    return { hits: kept.slice(0, MOST).map(([row]) => hit(index, row, said, values)), total: kept.length, loose, close, value: values.length > 0 };
  }

  const count = (text, said, language) => new Set(whole(text).flatMap((word) => termsOf(word, language)).filter((t) => said.has(t))).size;

  // What a row shows: the symptom that matched, by its own words or by its synonyms, which are not shown; else the step.
  function hit(index, n, said, values) {
    const { file } = index, [address, number, title, revision, equipment, task, symptoms] = file.columns.map((column) => column[n]);
    const pairs = file.lists[symptoms].map((t) => file.texts[t]), rest = restOf(index, n);
    const best = { symptom: "", most: 0 };
    for (let at = 0; at < pairs.length; at += 2) {
      const matched = count(`${pairs[at]} ${pairs[at + 1]}`, said, file.language);
      if (matched > best.most) Object.assign(best, { symptom: pairs[at], most: matched });
    }
    let place = "", what = "";
    for (let at = 0; at < rest.values.length && !place; at += 2) {
      if (values.some((value) => matches(value, rest.values[at + 1], index.unitOf))) [place, what] = [rest.values[at], rest.values[at + 1][0]];
    }
    let most = Math.max(best.most, count([title, number, ...rest.numbers].join(" "), said, file.language));
    if (!place) rest.steps.forEach((stage, s) => stage.forEach((step, t) => {
      const matched = count(step, said, file.language);
      if (matched > most) [most, place, what] = [matched, `${s + 1}.${t + 1}`, step];
    }));
    const page = address || `${number.toLowerCase()}.html`;
    return { address: place ? `${page}#${place}` : page, number, title, revision, equipment: file.equipment[equipment], task: file.task[task],
      symptom: best.symptom, place, what };
  }

  const choices = (file) => ({ equipment: [...file.equipment].sort(), task: [...file.task].sort() });
  return { read, later, add, find, choices };
})());
