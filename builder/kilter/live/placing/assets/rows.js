// Rows of the file over an answer: a row stays the same object, so what was chosen stays chosen wherever it stands now.
const ITEM = /^\d+$/;

// The rows that an answer brought, each as the object it was before. An item that says something else is known by its
// place and name, as after numbering anew, or by its number.
export function carried(before, after) {
  const left = [...before];
  const take = (fits) => {
    const found = left.findIndex(fits);
    return found < 0 ? null : left.splice(found, 1)[0];
  };
  const found = after.map((row) => take((old) => old.name === row.name && old.value === row.value));
  for (const key of ["value", "name"]) {
    after.forEach((row, n) => {
      if (ITEM.test(row.name)) found[n] ||= take((old) => ITEM.test(old.name) && old[key] === row[key]);
    });
  }
  return after.map((row, n) => (found[n] ? Object.assign(found[n], row) : row));
}

// What this page has just had written, in the rows as it holds them: [{row, text}], no row for a new one, no text for one taken out.
export function settled(rows, changes) {
  for (const { row, text } of changes) {
    const said = /^:([^:]+):\s*(.*)$/.exec(text);
    if (row && said) Object.assign(row, { name: said[1], value: said[2] });
  }
  return rows.filter((row) => !changes.some((each) => each.row === row && !each.text));
}
