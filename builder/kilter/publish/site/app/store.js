/**
 * What was entered, kept on this phone: IndexedDB, one strict transaction an entry, so that a killed browser loses
 * nothing that was shown as taken. Where there is none (private windows) it is kept in memory and said so.
 */
const NAME = "kilter-records", VERSION = 1;

export class StoreError extends Error {
  /** @param {"full"|"elsewhere"|"lost"} kind */
  constructor(kind, cause) {
    super(kind, {cause});
    this.kind = kind;
  }
}

function asked(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

function whole(transaction) {
  return new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onabort = () => reject(transaction.error || new Error("aborted"));
    transaction.onerror = (event) => event.preventDefault();
  });
}

function opened() {
  const request = indexedDB.open(NAME, VERSION);
  request.onupgradeneeded = () => {
    const base = request.result;
    base.createObjectStore("runs", {keyPath: "id"});
    base.createObjectStore("entries", {keyPath: ["run", "n"]});
    base.createObjectStore("kept", {keyPath: "key"});
  };
  return asked(request);
}

export class Store {
  /** @returns {Promise<Store>} on the disk where possible */
  static async open() {
    try {
      const base = await opened();
      const store = new Store(base);
      base.onversionchange = () => base.close();
      return store;
    } catch {
      return new Store(null);
    }
  }

  constructor(base) {
    this.base = base;
    this.memory = {runs: new Map(), entries: new Map(), kept: new Map()};
  }

  get lasting() {
    return this.base !== null;
  }

  transaction(stores, mode) {
    return this.base.transaction(stores, mode, mode === "readwrite" ? {durability: "strict"} : undefined);
  }

  async begin(head) {
    if (!this.base) return void this.memory.runs.set(head.id, head);
    return this.write(["runs"], (stores) => stores[0].put(head));
  }

  /** Add the next entry of a run; an entry of this number that another window wrote stands. */
  async add(run, entry) {
    const row = {run, n: Number(entry.n), entry};
    if (!this.base) return void this.memory.entries.set(`${run} ${row.n}`, row);
    return this.write(["entries"], (stores) => stores[0].add(row));
  }

  async write(names, action) {
    const transaction = this.transaction(names, "readwrite");
    const done = whole(transaction);
    let trouble = null;
    try {
      const request = action(names.map((name) => transaction.objectStore(name)));
      if (request) request.onerror = () => { trouble = request.error; };
      await done;
    } catch (cause) {
      const why = trouble || cause;
      const kind = why && why.name === "ConstraintError" ? "elsewhere" : why && why.name === "QuotaExceededError" ? "full" : "lost";
      throw new StoreError(kind, why);
    }
  }

  async runs() {
    if (!this.base) return [...this.memory.runs.values()];
    return asked(this.transaction(["runs"], "readonly").objectStore("runs").getAll());
  }

  async entries(run) {
    if (!this.base) {
      return [...this.memory.entries.values()].filter((row) => row.run === run).sort((a, b) => a.n - b.n).map((row) => row.entry);
    }
    const range = IDBKeyRange.bound([run, 0], [run, Infinity]);
    const rows = await asked(this.transaction(["entries"], "readonly").objectStore("entries").getAll(range));
    return rows.map((row) => row.entry);
  }

  async change(head) {
    return this.begin(head);
  }

  /** Take a run with all its entries off the phone: only what has been received elsewhere. */
  async forget(run) {
    if (!this.base) {
      this.memory.runs.delete(run);
      for (const [key, row] of this.memory.entries) if (row.run === run) this.memory.entries.delete(key);
      return undefined;
    }
    return this.write(["runs", "entries"], ([runs, entries]) => {
      runs.delete(run);
      entries.delete(IDBKeyRange.bound([run, 0], [run, Infinity]));
    });
  }

  async keep(key, value) {
    if (!this.base) return void this.memory.kept.set(key, value);
    return this.write(["kept"], (stores) => stores[0].put({key, value}));
  }

  async kept(key) {
    if (!this.base) return this.memory.kept.get(key);
    const row = await asked(this.transaction(["kept"], "readonly").objectStore("kept").get(key));
    return row && row.value;
  }
}
