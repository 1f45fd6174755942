/**
 * What this run did to the machine's energy: the rules of the check, applied to what was recorded.
 *
 * Levels: 0 live, 1 isolated and still charged, 2 isolated (or released) and not proved, 3 proved zero.
 * Nothing here looks at a clock of its own: the time comes with each entry.
 */

/**
 * @typedef {{level: number, held: boolean, waited: number, at: number, number: string, lost: string,
 *   left: number, built: number, doubted: boolean}} SourceState
 *   `at` and `number`: when and at which step it last changed. `lost`: why a proof no longer counts, or "".
 *   `left`: when it left its landing level, for what builds up again. `doubted`: its failed proof was called a slip.
 */

export const LIVE = 0, CHARGED = 1, DEAD = 2, PROVED = 3;
const LEVEL = {live: LIVE, charged: CHARGED, dead: DEAD};

/** @returns {Object<string, SourceState>} every source as it is when work begins */
export function untouched(plan) {
  const found = {};
  for (const source of plan.sources) {
    found[source.name] = {level: LEVEL[source.entry], held: false, waited: 0, at: 0, number: "", lost: "", left: 0,
      built: 0, doubted: false};
  }
  return found;
}

/** The run's knowledge of the sources, changed in place; made anew for every fold. */
export class Energy {
  constructor(plan) {
    this.plan = plan;
    this.all = new Map(plan.sources.map((source) => [source.name, source]));
    this.now = untouched(plan);
    this.order = plan.sources.map((source) => source.name);
    const depth = new Map(this.order.map((name) => [name, this.order.filter((each) => this.below(each).includes(name)).length]));
    this.order.sort((one, two) => depth.get(one) - depth.get(two));
  }

  landing(name) {
    return LEVEL[this.all.get(name).landing];
  }

  /** All that a source feeds, also through others. */
  below(name) {
    const found = new Set(), queue = [name];
    while (queue.length) {
      const feed = queue.pop();
      for (const source of this.plan.sources) {
        if (source.feeds.includes(feed) && !found.has(source.name) && source.name !== name) {
          found.add(source.name);
          queue.push(source.name);
        }
      }
    }
    return [...found];
  }

  cut(name) {
    const feeds = this.all.get(name).feeds;
    return feeds.length > 0 && feeds.every((feed) => this.now[feed].level >= CHARGED);
  }

  set(name, level, stamp, changes = {}) {
    const one = this.now[name];
    if (level > this.landing(name) && one.level <= this.landing(name)) one.left = stamp.at;
    Object.assign(one, {level, at: stamp.at, number: stamp.number, lost: ""}, changes);
    if (level <= CHARGED && one.level < DEAD && changes.waited === undefined && level === LIVE) one.waited = 0;
  }

  /** What is fed falls to its landing level once every feed is cut; again and again, for stores that feed stores. */
  fall(stamp) {
    for (let more = true; more;) {
      more = false;
      for (const source of this.plan.sources) {
        if (this.now[source.name].level === LIVE && this.cut(source.name)) {
          this.set(source.name, this.landing(source.name), stamp, {waited: 0});
          more = true;
        }
      }
    }
  }

  liven(name, stamp) {
    for (const fed of this.below(name)) this.set(fed, LIVE, stamp, {waited: 0, doubted: false});
  }

  isolate(names, stamp) {
    for (const name of names) {
      const one = this.now[name];
      const level = Math.max(one.level, this.landing(name));
      if (level === one.level) Object.assign(one, {held: true});
      else this.set(name, level, stamp, {held: true, waited: 0});
      one.held = true;
    }
    this.fall(stamp);
  }

  /** Seconds that were waited count for what drains by itself, and only while it is cut off. */
  wait({seconds, at}, stamp) {
    for (const source of this.plan.sources) {
      const one = this.now[source.name];
      if (!source.bleed || source.action || one.level !== CHARGED) continue;
      if (at - seconds * 1000 < one.built) continue; // it built up again while this was waited
      one.waited += seconds;
      if (one.waited < source.bleed) continue;
      const over = one.waited - source.bleed;
      this.set(source.name, DEAD, stamp, {waited: 0});
      one.left = at - over * 1000; // it has been building up again since it had drained, not since the wait was over
    }
  }

  release(names, stamp) {
    for (const name of names) {
      if (this.now[name].level >= CHARGED) this.set(name, DEAD, stamp);
    }
  }

  prove(names, stamp) {
    for (const name of names) {
      const one = this.now[name];
      if (one.level >= DEAD || (one.doubted && (one.held || this.cut(name)))) {
        this.set(name, PROVED, stamp, {doubted: false});
      }
    }
  }

  restore(names, stamp) {
    for (const name of names) {
      this.set(name, LIVE, stamp, {held: false, waited: 0, doubted: false});
      this.liven(name, stamp);
    }
  }

  load(names, stamp) {
    for (const name of names) {
      this.set(name, LEVEL[this.all.get(name).entry], stamp, {waited: 0});
      if (this.now[name].level === LIVE) this.liven(name, stamp);
    }
  }

  /** A proof failed: live again, or at the landing level where the feeds are still cut; our hold stays. */
  fail(names, stamp) {
    for (const name of this.order.filter((each) => names.includes(each))) {
      const cold = LEVEL[this.all.get(name).entry] !== LIVE || this.cut(name);
      this.set(name, cold ? this.landing(name) : LIVE, stamp, {waited: 0});
      this.now[name].lost = "failed";
      if (!cold) this.liven(name, stamp);
    }
  }

  /** Another stage begins: what builds up again is at its landing level. */
  boundary(stamp) {
    for (const source of this.plan.sources) {
      if (!source.again && !source.counts) continue;
      this.buildUp(source.name, stamp);
      this.now[source.name].waited = 0;
    }
  }

  buildUp(name, stamp) {
    const one = this.now[name], landing = this.landing(name);
    if (one.level > landing) this.set(name, landing, stamp, {waited: 0, lost: "again", built: stamp.at});
  }

  /** What has had the time to build up again since it was made safe. */
  age(at, number) {
    for (const source of this.plan.sources) {
      const one = this.now[source.name];
      if (source.counts && one.level > this.landing(source.name) && at - one.left > source.counts * 1000) {
        this.buildUp(source.name, {at, number});
      }
    }
  }

  /** Every proof is void; returns the sources it had been proved for. */
  void(reason) {
    const found = Object.keys(this.now).filter((name) => this.now[name].level === PROVED);
    for (const name of found) Object.assign(this.now[name], {level: DEAD, lost: reason});
    return found;
  }

  snapshot() {
    return JSON.parse(JSON.stringify(this.now));
  }

  /** The worse of before and after for the other sources that a step acted on, where its proof failed. */
  worse(before, names, stamp) {
    for (const name of names) {
      const was = before[name], is = this.now[name];
      if (was.level < is.level || (was.level === is.level && was.waited < is.waited)) {
        Object.assign(is, {level: was.level, waited: was.waited});
      }
      if (is.level === LIVE) this.liven(name, stamp);
    }
  }
}
