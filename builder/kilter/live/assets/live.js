// The live page: hears of changes, fetches the page anew and puts it in place; scroll, focus and what is open stay.
"use strict";
(() => {
  const meta = (name) => document.querySelector(`meta[name="kilter-${name}"]`);
  const state = () => document.getElementById("live-state");
  const own = Boolean(document.querySelector("[data-own]"));
  const PARTS = ["title", "#live-bar nav", "#live-trouble", "#content", ".top .home", ".top nav", ".foot", 'link[rel="canonical"]'];
  let source = null, timer = 0, fetching = false, again = false;

  function tell(words, kind) {
    const place = state();
    if (!place) return;
    place.textContent = words;
    place.className = kind;
  }

  // Events come only while the page is seen: a browser has few connections to one server, hidden pages need none.
  function listen() {
    if (source || document.visibilityState === "hidden") return;
    const page = own ? "" : location.pathname + location.search;
    source = new EventSource("/events?page=" + encodeURIComponent(page));
    source.addEventListener("hello", (e) => {
      const { token, version } = JSON.parse(e.data);
      meta("token").content = token;
      tell("Live", "on");
      compare(version);
    });
    source.addEventListener("changed", (e) => {
      const detail = JSON.parse(e.data);
      document.dispatchEvent(new CustomEvent("kilter:changed", { detail }));
      compare(detail.version);
    });
    source.onerror = () => {
      tell("Not connected: this page may be old. Is kilter serve running?", "off");
      if (source.readyState !== EventSource.CLOSED) return;
      source = null;
      clearTimeout(timer);
      timer = setTimeout(listen, 1000);
    };
  }

  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") return listen();
    source?.close();
    source = null;
  });

  function compare(version) {
    if (!own && version && version !== meta("version").content) renew();
  }

  async function renew() {
    if (fetching) { again = true; return; }
    fetching = true;
    try {
      do {
        again = false;
        const answer = await fetch(location.pathname + location.search, { cache: "no-store" });
        put(new DOMParser().parseFromString(await answer.text(), "text/html"));
      } while (again);
    } catch {
      tell("Not connected: this page may be old. Is kilter serve running?", "off");
    } finally {
      fetching = false;
    }
  }

  function put(fresh) {
    const version = fresh.querySelector('meta[name="kilter-version"]');
    if (!version) return location.reload();  // an answer without our bar: nothing to put in place
    const kept = anchor();
    for (const part of PARTS) {
      const [was, is] = [document.querySelector(part), fresh.querySelector(part)];
      if (was && is) patch(was, document.adoptNode(is));
      else if (was) was.remove();
      else if (is) place(part, document.adoptNode(is));
    }
    meta("version").content = version.content;
    meta("token").content = fresh.querySelector('meta[name="kilter-token"]').content;
    document.dispatchEvent(new CustomEvent("kilter:renewed"));
    kept?.();  // last: other scripts may have made parts taller
  }

  function place(part, element) {
    if (part === "#live-trouble") document.getElementById("live-bar").append(element);
    else if (part.startsWith("link")) document.head.append(element);
    else document.body.append(element);
  }

  // What stands at the top of the window stays there, whatever grows or shrinks above it.
  function anchor() {
    const seen = [...document.querySelectorAll("#content [id]")].filter((e) => e.getBoundingClientRect().bottom > 0);
    const first = seen.find((e) => e.getBoundingClientRect().top >= 0) ?? seen.at(-1);
    if (!first || window.scrollY === 0) return null;
    const [id, top, was] = [first.id, first.getBoundingClientRect().top, window.scrollY];
    return () => {
      const now = document.getElementById(id);
      if (now) window.scrollBy({ top: now.getBoundingClientRect().top - top, behavior: "instant" });
      else window.scrollTo({ top: was, behavior: "instant" });
    };
  }

  // Changes only what differs, so that what the reader opened, marked or stands in is not touched.
  function patch(was, is) {
    if (was.isEqualNode(is)) return;
    if (was.nodeType !== is.nodeType || was.nodeName !== is.nodeName || was.id !== is.id) return was.replaceWith(is);
    if (was.nodeType !== Node.ELEMENT_NODE) { was.data = is.data; return; }
    for (const { name } of [...was.attributes]) if (!is.hasAttribute(name) && name !== "open") was.removeAttribute(name);
    for (const { name, value } of [...is.attributes]) if (was.getAttribute(name) !== value) was.setAttribute(name, value);
    const [olds, news] = [[...was.childNodes], [...is.childNodes]];
    let head = 0;
    while (head < olds.length && head < news.length && olds[head].isEqualNode(news[head])) head++;
    let tail = 0;
    while (tail < Math.min(olds.length, news.length) - head && olds.at(-1 - tail).isEqualNode(news.at(-1 - tail))) tail++;
    const [before, after] = [olds.slice(head, olds.length - tail), news.slice(head, news.length - tail)];
    const end = olds[olds.length - tail] ?? null;
    after.forEach((node, n) => (n < before.length ? patch(before[n], node) : was.insertBefore(node, end)));
    before.slice(after.length).forEach((node) => node.remove());
  }

  // Each figure leads to where its places are pointed at; a build knows nothing of it.
  function placing() {
    const write = document.querySelector('#live-bar a[href^="/write/"]');
    if (!write) return;
    for (const figure of document.querySelectorAll('#content figure[id^="fig."], main figure[id^="fig."]')) {
      if (figure.querySelector(".place-link")) continue;
      const link = Object.assign(document.createElement("a"), { textContent: "Place by eye", className: "place-link" });
      link.href = `${write.getAttribute("href").replace("/write/", "/place/")}?shown=${figure.id.slice(4)}`;
      figure.append(link);
    }
  }

  document.addEventListener("kilter:renewed", placing);
  placing();
  listen();
})();
