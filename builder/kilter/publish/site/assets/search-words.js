// Words of records and questions: how they are cut, what is one word, and what is a slip of the finger.
// For the page and for its worker: everything hangs on `kilterSearch`.
"use strict";
globalThis.kilterSearch = globalThis.kilterSearch ?? {};
Object.assign(kilterSearch, (() => {
  const COMMON = {
    en: new Set("a an and are as at be by does for from has in is it its not of on or the to when with".split(" ")),
    de: new Set("als am an auf aus bei das der die den des dem ein eine einen im in ist mit nicht oder und vom von wenn zu zum zur".split(" ")),
  };
  const digit = (word) => /\d/.test(word);

  // LFT-120 in the index is also lft120, lft and 120; in a question it stays whole, so LFT-999 finds nothing.
  // Plain letters take the short way: most texts have no others, and the index is ready sooner.
  const PLAIN = /[a-z0-9]+(?:[-.'][a-z0-9]+)*/g, ANY = /[\p{L}\p{N}]+(?:[-.'’][\p{L}\p{N}]+)*/gu;
  const whole = (text) => (/^[\x00-\x7f]*$/.test(text) ? text.toLowerCase().match(PLAIN) : text.normalize("NFC").toLowerCase().match(ANY)) ?? [];
  const pieces = (word) => (/[-.'’]/.test(word) ? [word, word.replace(/[-.'’]/g, ""), ...word.split(/[-.'’]/)] : [word]);

  const bare = (word) => /^[a-z]*$/.test(word) ? word : word.normalize("NFD").replace(/\p{M}/gu, "").replace(/ß/g, "ss");
  const STEMS = {
    en: (word) => {
      const base = word.replace(/ies$/, "y").replace(/(?<!s)s$/, "");
      return base.length < 6 ? base.replace(/e$/, "") : base.replace(/(?:ing|ed|e)$/, "");
    },
    de: (word) => word.length < 5 ? word : word.replace(/(?:ern|en|er|em|es|e|n|s)$/, ""),
  };

  // What a word is kept under; "" for one that says nothing. Anything with a digit stays as it is.
  function stem(word, language) {
    if (COMMON[language]?.has(word)) return "";
    if (digit(word) || word.length < 4) return word;
    return STEMS[language]?.(bare(word)) ?? bare(word);
  }

  // How many slips a word may hold: none with a digit or below four letters, two from eight letters on.
  const slips = (word) => digit(word) || word.length < 4 ? 0 : word.length < 8 ? 1 : 2;

  // Damerau-Levenshtein distance (adjacent letters swapped count once), at most `most`, else most + 1.
  function distance(one, two, most) {
    if (Math.abs(one.length - two.length) > most) return most + 1;
    let before = [], last = [], row = Array.from({ length: two.length + 1 }, (_, n) => n);
    for (let i = 1; i <= one.length; i++) {
      [before, last, row] = [last, row, [i]];
      let least = i;
      for (let j = 1; j <= two.length; j++) {
        const same = one[i - 1] === two[j - 1];
        let cost = Math.min(last[j] + 1, row[j - 1] + 1, last[j - 1] + (same ? 0 : 1));
        if (i > 1 && j > 1 && one[i - 1] === two[j - 2] && one[i - 2] === two[j - 1]) cost = Math.min(cost, before[j - 2] + 1);
        row[j] = cost;
        if (cost < least) least = cost;
      }
      if (least > most) return most + 1;
    }
    return row[two.length];
  }

  // One bit a letter: words that differ in too many letters need not be compared.
  function letters(word) {
    let bits = 0;
    for (let n = 0; n < word.length; n++) bits |= 1 << (word.charCodeAt(n) % 31);
    return bits;
  }

  return { digit, whole, pieces, stem, slips, distance, letters };
})());
