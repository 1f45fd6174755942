"""What a phone keeps opens without a connection, and never pretends to be in force."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from tests.publish.site_browser import ARGUMENTS, CHROMIUM, served
from tests.run.hand import PHONE, Hand

from kilter.publish.site.offline import offline_list

pytestmark = pytest.mark.browser
SETS = {
    "roan-3": (
        "Transport stretcher",
        ("equipment-roan-3.html", "str-010.html", "str-110.html", "str-130.html"),
    )
}


@pytest.fixture
def site(demo_site, tmp_path):
    """A copy that a test may change, as if something new were published."""
    return Path(shutil.copytree(demo_site, tmp_path / "site"))


@pytest.fixture
def phone(site, chromium):
    with served(site) as base:
        context = chromium.new_context(**PHONE)
        page = context.new_page()
        page.base = base
        yield page
        context.close()


def keep(page, machine="Transport stretcher"):
    page.goto(f"{page.base}shelf.html")
    page.get_by_role("button", name=f"Keep: {machine}", exact=False).click()
    page.wait_for_function("() => document.querySelector('.shelf-say')?.textContent.startsWith('Kept:')")
    page.wait_for_timeout(100)


def republish(site, change, revision="C"):
    """Another revision of STR-110, with all that a new build would change."""
    page = site / "str-110.html"
    text = page.read_text(encoding="utf-8")
    old = json.loads((site / "revisions.json").read_text(encoding="utf-8"))["documents"]["STR-110"]["hash"]
    new = "f" * 64
    page.write_text(
        change(text).replace(old, new).replace('"revision":"B"', f'"revision":"{revision}"'),
        encoding="utf-8",
    )
    list_ = json.loads((site / "revisions.json").read_text(encoding="utf-8"))
    list_["documents"]["STR-110"] |= {"revision": revision, "hash": new}
    (site / "revisions.json").write_text(json.dumps(list_), encoding="utf-8")
    sets = {
        id: (entry["title"], tuple(p for p in entry["paths"] if p.endswith(".html")))
        for id, entry in json.loads((site / "offline.json").read_text(encoding="utf-8"))["sets"].items()
        if id != "shell"
    }
    (site / "offline.json").write_bytes(offline_list(site, sets))


def standing(page, kinds):
    page.wait_for_function("(kinds) => kinds.includes(document.documentElement.dataset.standing)", arg=kinds)
    return page.inner_text("#standing")


def test_a_machine_kept_opens_without_a_server_with_pictures_and_search(site, chromium):
    with served(site) as base:
        context = chromium.new_context(**PHONE)
        page = context.new_page()
        page.base = base
        keep(page)
    for path in SETS["roan-3"][1]:
        assert page.goto(f"{base}{path}").status == 200, path
        page.evaluate("document.querySelectorAll('img').forEach((i) => { i.loading = 'eager'; })")
        page.wait_for_function("() => [...document.images].every((i) => i.complete)")
        assert page.evaluate("[...document.images].every((i) => i.naturalWidth > 0)"), path
    page.goto(f"{base}str-110.html")
    assert "No connection. Revision B was in force" in standing(page, ["kept"])
    page.fill("input[type=search]", "rail latch")
    page.wait_for_selector(".search [href='str-110.html'], .results a, [href^='str-110.html']")
    page.goto(f"{base}search.html")
    page.fill("#q", "battery")
    page.wait_for_selector(".found li small")
    marks = dict(
        page.eval_on_selector_all(
            ".found li a",
            "all => all.map((a) => [a.getAttribute('href').split('#')[0], a.lastChild.textContent])",
        )
    )
    assert marks["lft-120.html"] == "not on this phone" and marks["str-010.html"] != "not on this phone"
    page.fill("#q", "xqzzw")
    page.wait_for_selector(".found .lists a[href='by-symptom.html']")
    assert "Try another word, fewer words, or a number" in page.inner_text(".said")
    answer = page.goto(f"{base}lft-120.html")
    assert answer.status == 503
    assert "not kept on this phone" in page.inner_text("main")
    context.close()


def test_a_machine_kept_brings_its_part_of_a_split_search(site, phone):
    """Above the size of one file: the first file is everybody's, that of a machine comes with the machine."""
    first = json.loads((site / "records.json").read_text(encoding="utf-8"))
    titles = {
        "roan-3": "Transport stretcher Dunmarl Roan 3",
        "egret-2": "Mobile patient lift Pellwin Egret 2",
    }
    (site / "records").mkdir()
    listed = json.loads((site / "offline.json").read_text(encoding="utf-8"))["sets"]
    sets, columns, keys = {}, first["columns"], ("texts", "values", "lists")
    for id, title in titles.items():
        own = [n for n, e in enumerate(columns[4]) if columns[1][n] != "0" and first["equipment"][e] == title]
        pages = [path for path in listed[id]["paths"] if path.endswith(".html")]
        part = {key: first[key] for key in keys} | {"columns": [[c[n] for n in own] for c in columns[7:]]}
        part |= {"schema": "kilter-records-part-1", "revision": id}
        first["parts"].append([f"records/{id}.json", first["equipment"].index(title), id])
        (site / f"records/{id}.json").write_text(json.dumps(part), encoding="utf-8")
        sets[id] = (title, (*pages, f"records/{id}.json"))
    columns[7] = [[] for _ in columns[7]]
    columns[8:] = [[first["lists"].index([])] * len(columns[7]) for _ in columns[8:]]
    (site / "records.json").write_text(json.dumps(first), encoding="utf-8")
    (site / "offline.json").write_bytes(offline_list(site, sets))
    keep(phone)
    phone.context.set_offline(True)
    phone.goto(f"{phone.base}str-110.html")
    lift, stretcher = "PW-2118", "TV-2207"
    phone.fill("#q", lift)
    phone.wait_for_selector(f'.found[data-answers="{lift}"][data-left="0"]')
    assert titles["egret-2"] in phone.inner_text(".said"), "what was not looked into is named"
    phone.fill("#q", stretcher)
    phone.wait_for_selector(f'.found[data-answers="{stretcher}"][data-left="0"]')
    assert phone.locator(".found li a").first.get_attribute("href") == "str-110.html"


def test_a_large_library_is_asked_for_the_list_of_the_machine(site, phone):
    """In force, withdrawn with its machine's last document, and offline by what was heard of this machine alone."""
    whole = json.loads((site / "revisions.json").read_text(encoding="utf-8"))
    stretcher = {n: d for n, d in whole["documents"].items() if n.startswith("STR")}
    first = {"schema": "kilter-revisions-split-1", "machines": ["egret-2", "roan-3"]}
    (site / "revisions").mkdir()
    for machine, documents in (("egret-2", {}), ("roan-3", stretcher)):
        list_ = whole | {"documents": documents}
        (site / f"revisions/{machine}.json").write_text(json.dumps(list_), encoding="utf-8")
    (site / "revisions.json").write_text(json.dumps(first), encoding="utf-8")
    phone.goto(f"{phone.base}lft-120.html")
    standing(phone, ["old"])
    keep(phone)
    phone.goto(f"{phone.base}str-110.html")
    standing(phone, ["current"])
    (site / "revisions.json").write_text(json.dumps(first | {"machines": []}), encoding="utf-8")
    phone.context.set_offline(True)
    phone.reload()
    assert "No connection. Revision B was in force" in standing(phone, ["kept"])
    phone.context.set_offline(False)
    phone.reload()
    standing(phone, ["old"])


def test_only_what_changed_is_fetched_again(site, phone):
    keep(phone)
    before = phone.evaluate("caches.open('kilter-files').then((c) => c.keys()).then((k) => k.length)")
    republish(site, lambda text: text.replace("Set the rail latch switch", "Set the latch switch"))
    asked = []
    phone.context.on("request", lambda r: asked.append(r.url.removeprefix(phone.base)))
    phone.reload()
    phone.wait_for_function("() => document.querySelector('.shelf-say')?.textContent.startsWith('Kept:')")
    phone.wait_for_timeout(200)
    fetched = [path for path in asked if path.startswith(("str-", "equipment-", "pictures/"))]
    assert fetched in ([], ["str-110.html"]), fetched
    after = phone.evaluate("caches.open('kilter-files').then((c) => c.keys()).then((k) => k.length)")
    assert after == before, "the old page has gone, the new one has come"
    phone.context.set_offline(True)
    phone.goto(f"{phone.base}str-110.html")
    assert "Set the latch switch" in phone.inner_text("h1")


def test_a_half_published_site_changes_nothing(site, phone):
    keep(phone)
    page = site / "str-110.html"
    list_ = json.loads((site / "offline.json").read_text(encoding="utf-8"))
    list_["files"]["str-110.html"], list_["rev"] = "0" * 16, "1" * 16
    (site / "offline.json").write_text(json.dumps(list_), encoding="utf-8")
    page.write_text(page.read_text(encoding="utf-8").replace(" rail ", " zzz "), encoding="utf-8")
    phone.reload()
    phone.wait_for_function(
        "() => document.querySelector('.shelf-say')?.textContent.includes('What was kept stays')"
    )
    phone.context.set_offline(True)
    assert phone.goto(f"{phone.base}str-110.html").status == 200
    assert "zzz" not in phone.inner_text("main")


def test_an_update_cut_off_leaves_the_old_set_and_goes_on_later(site, phone):
    keep(phone)
    republish(site, lambda text: text.replace("rail", "RAIL"))
    (site / "pictures").rename(site / "gone")
    new = site / "str-130.html"
    new.write_text(new.read_text(encoding="utf-8") + "<!-- new -->", encoding="utf-8")
    sets = {"roan-3": SETS["roan-3"]}
    (site / "gone").rename(site / "pictures")
    (site / "offline.json").write_bytes(offline_list(site, sets))
    new.rename(site / "away.html")
    phone.reload()
    phone.wait_for_function(
        "() => document.querySelector('.shelf-say')?.textContent.includes('lacks a file')"
    )
    status = phone.evaluate("caches.open('kilter-set').then((c) => c.keys()).then((k) => k.length)")
    assert status == 1
    (site / "away.html").rename(new)
    phone.reload()
    phone.wait_for_function("() => document.querySelector('.shelf-say')?.textContent.startsWith('Kept:')")


def test_a_sign_in_page_is_not_taken_for_ours(site, phone):
    keep(phone)
    sign_in = "<!doctype html><title>Guest network</title><p>Sign in"
    phone.context.route(
        "**/*.json", lambda route: route.fulfill(status=200, content_type="text/html", body=sign_in)
    )
    phone.goto(f"{phone.base}str-110.html")
    assert "No connection. Revision B was in force" in standing(phone, ["kept"])
    phone.goto(f"{phone.base}shelf.html")
    phone.wait_for_selector(".shelf-list li")
    assert phone.evaluate("caches.has('kilter-set')")


def test_a_revision_that_came_meanwhile_is_told_and_not_swapped(site, phone):
    keep(phone)
    phone.goto(f"{phone.base}str-110.html")
    hand = Hand(phone)
    hand.begin()
    hand.cautions()
    hand.answer(0)
    hand.cautions()
    phone.context.set_offline(True)
    republish(site, lambda text: text.replace("Make the stretcher safe", "Make it safe first"))
    step, count = hand.step(), len(hand.entries())
    phone.context.set_offline(False)
    phone.evaluate("window.dispatchEvent(new Event('online'))")
    phone.wait_for_selector("text=Revision C is in force now")
    assert hand.step() == step
    assert len(hand.entries()) == count, "nothing is entered for the reader"
    assert "isolated" in phone.inner_text(".run-state") or "not isolated" in phone.inner_text(".run-state")
    hand.press("Go on by B")
    assert hand.step() == step
    last = hand.entries()[-1]
    assert (last["kind"], last["inForce"], last["choice"]) == ("revision", "C", "go on")
    assert "Make the stretcher safe" in phone.inner_text("main"), "the page under the hands is the old one"
    assert "Revision C is in force. This page is revision B" in phone.inner_text("#standing")
    assert (
        phone.evaluate("getComputedStyle(document.querySelector('.step.now'), '::before').content") == '"!"'
    )


def test_stopping_for_a_new_revision_is_kept_too(site, phone):
    phone.goto(f"{phone.base}str-110.html")
    hand = Hand(phone)
    hand.begin()
    republish(site, lambda text: text)
    phone.evaluate("window.dispatchEvent(new Event('online'))")
    phone.wait_for_selector("text=Revision C is in force now")
    hand.press("Stop and make safe")
    assert [e["kind"] for e in hand.entries()][-2:] == ["revision", "stop"]
    assert "Before you go, lock" in phone.inner_text(".run-first")


def test_withdrawn_changed_and_old(site, phone):
    keep(phone)
    phone.goto(f"{phone.base}str-110.html")
    assert phone.is_hidden("#standing"), "in force: nothing is in the way"
    list_ = json.loads((site / "revisions.json").read_text(encoding="utf-8"))
    changed = {
        **list_,
        "documents": {**list_["documents"], "STR-110": {**list_["documents"]["STR-110"], "hash": "0" * 64}},
    }
    (site / "revisions.json").write_text(json.dumps(changed), encoding="utf-8")
    phone.reload()
    assert "changed under the same letter B" in standing(phone, ["old"])
    del list_["documents"]["STR-110"]
    (site / "revisions.json").write_text(json.dumps(list_), encoding="utf-8")
    phone.reload()
    phone.wait_for_function("() => document.querySelector('#standing')?.textContent.includes('withdrawn')")
    phone.context.set_offline(True)
    phone.reload()
    phone.wait_for_function(
        "() => document.querySelector('#standing')?.textContent.startsWith('No connection. This document had been withdrawn')"
    )


def test_a_long_absence_and_a_moved_clock(site, phone):
    keep(phone)
    phone.goto(f"{phone.base}str-110.html")
    phone.wait_for_timeout(300)
    phone.context.set_offline(True)
    for days, kind, words in (
        (15, "unsure", "Not checked for more than 14 days"),
        (-2, "clock", "clock stands before the last look"),
    ):
        phone.evaluate(
            "(by) => { const real = Date.now; window.realNow = window.realNow || real; Date.now = () => window.realNow.call(Date) + by; }",
            days * 86_400_000,
        )
        phone.evaluate("window.dispatchEvent(new Event('online'))")
        phone.wait_for_function("(kind) => document.documentElement.dataset.standing === kind", arg=kind)
        assert words in phone.inner_text("#standing")


def test_never_checked_is_said(site, chromium):
    context = chromium.new_context(**PHONE)
    page = context.new_page()
    with served(site) as base:
        page.route("**/revisions.json", lambda route: route.abort())
        page.goto(f"{base}str-110.html")
        assert "never checked" in standing(page, ["unchecked"])
    context.close()


def test_a_stick_and_plain_http_say_what_is_missing(site, chromium):
    context = chromium.new_context(**PHONE)
    page = context.new_page()
    trouble = []
    page.on("pageerror", lambda e: trouble.append(str(e)))
    page.goto((site / "shelf.html").as_uri())
    page.wait_for_selector("text=Opened from a file or a stick")
    page.goto((site / "str-110.html").as_uri())
    page.wait_for_selector("#run-offer button")
    with served(site) as base:
        page.route(
            "http://house.kilter.test/**",
            lambda route: route.fulfill(
                path=site
                / (
                    route.request.url.rsplit("/", 1)[1].split("?")[0]
                    if "/assets/" not in route.request.url
                    else "assets/" + route.request.url.split("/assets/")[1]
                )
            ),
        )
        page.goto("http://house.kilter.test/shelf.html")
        page.wait_for_selector("text=served without https")
        assert base
    assert trouble == []
    context.close()


def test_it_is_there_after_the_browser_was_closed(site, chromium, tmp_path):

    def opened():
        return chromium.browser_type.launch_persistent_context(
            str(tmp_path / "profile"), executable_path=str(CHROMIUM), args=ARGUMENTS, **PHONE
        )

    with served(site) as base:
        context = opened()
        page = context.pages[0]
        page.base = base
        keep(page)
        context.close()
    context = opened()
    page = context.pages[0]
    assert page.goto(f"{base}str-110.html").status == 200
    context.close()


def test_what_is_kept_can_be_removed(site, phone):
    keep(phone)
    assert phone.get_by_role("button", name="Keep all").count() == 1, "two machines are missing still"
    phone.get_by_role("button", name="Remove all").click()
    assert phone.evaluate("document.activeElement.textContent") == "Cancel"
    assert phone.evaluate("caches.has('kilter-set')"), "it asks first"
    phone.get_by_role("button", name="Yes, remove all").click()
    phone.wait_for_function(
        "() => document.querySelector('.shelf-say')?.textContent.startsWith('Nothing is kept')"
    )
    assert phone.evaluate("caches.open('kilter-files').then((c) => c.keys()).then((k) => k.length)") == 0


def test_the_first_load_is_small(site, chromium):
    """Everything but pictures and letters that a phone fetches for the largest page, packed as any server packs it:
    until the page stands, and with what comes after that by itself."""
    import gzip

    context = chromium.new_context(**PHONE)
    page = context.new_page()
    answers = []
    with served(site) as base:
        page.on("response", lambda answer: answers.append(answer))
        page.goto(f"{base}str-110.html", wait_until="load")
        page.wait_for_function("() => globalThis.kilterHanding")
        page.wait_for_load_state("networkidle")
        bodies = {r.url.removeprefix(base): r.body() for r in answers if r.ok}
    sizes = {
        path: len(gzip.compress(body))
        for path, body in bodies.items()
        if not path.startswith("pictures/") and not path.endswith("woff2")
    }
    later = sizes.pop("assets/run-end.js")
    assert sum(sizes.values()) <= 58_000, sizes
    assert later <= 5_500, later
    context.close()


def test_installable(site):
    manifest = json.loads((site / "app.webmanifest").read_text(encoding="utf-8"))
    assert manifest["start_url"] == "shelf.html" and manifest["display"] == "standalone"
    from PIL import Image

    for icon in manifest["icons"]:
        file = site / icon["src"]
        assert file.is_file()
        if icon["type"] == "image/png":
            with Image.open(file) as picture:
                assert f"{picture.width}x{picture.height}" == icon["sizes"]
