"""A whole repair on a phone in flight mode, and what a killed tab or browser leaves."""

from __future__ import annotations

import json
import re
import subprocess
import time
from pathlib import Path

import pytest
from tests.publish.site_browser import ARGUMENTS, CHROMIUM, watch
from tests.run.hand import PHONE, Hand

pytestmark = pytest.mark.browser


@pytest.fixture
def phone(opened):
    base, chromium = opened
    context = chromium.new_context(**PHONE, accept_downloads=True)
    page = context.new_page()
    page.clock.install()
    trouble = watch(page)
    page.goto(f"{base}str-110.html")
    yield Hand(page)
    # what is in force can't be asked without a connection, and a clock that jumps cuts the question short
    known = ("DISCONNECTED", "icon.svg", "revisions.json")
    assert [t for t in trouble if not any(k in t for k in known)] == []
    context.close()


def plan(hand):
    return hand.page.evaluate("globalThis.kilterRun.plan")


def likely(step, reading):
    """A value that the first answer of the step is true of: inside the limits, or outside where it says so."""
    low, high = reading["low"], reading["high"]
    said = step["answers"][0]["fits"] if step["answers"] else None
    if said and not said["inside"]:
        return str(round(float(high) + 0.3, 2)) if high else "0"
    return str(round((float(low) + float(high)) / 2, 2)) if low and high else "0" if high else low


def readings(hand, values):
    """Every reading of the step, as its first answer has it unless `values` says otherwise."""
    step = next(s for s in plan(hand)["steps"] if s["anchor"] == hand.step())
    for n, reading in enumerate(step["readings"]):
        hand.read(values.get(reading["id"], likely(step, reading)), which=n)


def go(hand, answers=None, values=None, stop_at=None, most=80, each=lambda hand: None):
    """Through the document by the first answer of each step, or those given; ends at an end, or before a step."""
    answers = {} if answers is None else answers
    for _ in range(most):
        if hand.state()["exit"]:
            return
        hand.cautions()
        if hand.step() == stop_at:
            return
        hand.wait()
        readings(hand, values or {})
        each(hand)
        if hand.page.locator(".run-answer").count():
            given = answers.get(hand.step(), 0)
            hand.answer(
                given.pop(0) if isinstance(given, list) and given else 0 if isinstance(given, list) else given
            )
        else:
            hand.main()
    raise AssertionError(f"no end after {most} steps, at {hand.step()}")


def record_of(hand):
    with hand.page.expect_download() as got:
        hand.press("Save the record")
    hand.page.wait_for_selector("text=Given out")
    return json.loads(Path(got.value.path()).read_text(encoding="utf-8"))


def test_a_repair_in_flight_mode(phone):
    """Isolate, a proof that fails, lock again, prove, set, read, called away in the middle, export."""
    phone.page.wait_for_function("() => globalThis.kilterHanding")  # it comes as soon as the page stands
    phone.page.context.set_offline(True)
    phone.begin()
    go(phone, stop_at="a.prove-it-dead")
    assert phone.state()["held"] == ["mains", "battery", "deck"]
    phone.wait()
    readings(phone, {})
    phone.answer(1)  # the deck rocks
    state = phone.state()
    assert state["sources"]["deck"]["lost"] == "failed"
    assert phone.step() == "a.put-the-deck-on-its-props", "a failed proof leads where the procedure says"
    go(phone, stop_at="a.prove-it-dead")
    go(phone, stop_at="set-the-bracket")
    assert all(
        one["level"] == 3
        for name, one in phone.state()["sources"].items()
        if name in ("battery", "deck", "drive wheel")
    )
    phone.press("Called away")
    assert "Nothing counts as proved any more" in phone.page.inner_text(".run-sheet")
    assert all(one["level"] < 3 for one in phone.state()["sources"].values())
    phone.press("TE is back")
    phone.back()
    assert phone.state()["detour"] == "a.prove-it-dead", "the proofs come first"
    go(phone, stop_at="set-the-bracket")
    assert phone.state()["detour"] == ""
    go(phone)
    assert phone.state()["exit"] == "returned to service"
    record = record_of(phone)
    kinds = [entry["kind"] for entry in record["entries"]]
    assert kinds.count("away") == 1 and kinds[-1] == "exit"
    assert record["exit"] == "returned to service"
    assert record["asset"] == "B-0412" and record["workOrder"] == "WO-7781" and record["worker"] == "TE"
    taken = [e for e in record["entries"] if e["kind"] == "reading"]
    assert [e["phase"] for e in taken if e["verdict"] == "fail"] == ["as found"]
    assert {e["verdict"] for e in taken if e["phase"] != "as found"} <= {
        "pass",
        "too close to call",
        "not judged",
    }
    assert [int(e["n"]) for e in record["entries"]] == list(range(1, len(kinds) + 1))


def test_a_record_saved_again_is_the_one_that_the_receipt_names(phone):
    """Its place in the chain is settled once: made anew for the list, it has the hash it was given out with."""
    phone.begin()
    go(phone, answers={"read-the-display": 1})
    assert phone.state()["exit"] == "left as found"
    first = record_of(phone)
    phone.page.goto(phone.page.url.split("str-110")[0] + "shelf.html")
    phone.page.locator(".shelf-records summary", has_text="B-0412").click()
    with phone.page.expect_download() as got:
        phone.page.get_by_role("button", name="Save the record").click()
    assert json.loads(Path(got.value.path()).read_text(encoding="utf-8")) == first


def test_where_the_way_out_has_not_come_the_record_stays_and_goes_later(opened):
    base, chromium = opened
    context = chromium.new_context(**PHONE, accept_downloads=True)
    page = context.new_page()
    page.route("**/run-end.js", lambda route: route.abort("internetdisconnected"))
    page.goto(f"{base}str-110.html")
    hand = Hand(page)
    hand.begin()
    hand.answer(1)  # both rails are shown up: not this fault
    hand.main()
    assert "The record is kept on this phone" in page.inner_text(".run-screen [role=alert]")
    page.unroute("**/run-end.js")
    hand.press("Try again")
    assert record_of(hand)["exit"] == "left as found"
    assert page.locator(".run-screen [role=alert]").count() == 0
    context.close()


def test_a_tab_closed_after_every_entry_loses_nothing(opened):
    """Whatever was entered stands when the page is opened again, and the run stands at the same place."""
    base, chromium = opened
    context = chromium.new_context(**PHONE)

    def fresh():
        page = context.new_page()
        page.clock.install()
        page.goto(f"{base}str-110.html")
        page.wait_for_selector("#run-offer button")
        return Hand(page)

    hand = fresh()
    hand.begin()
    seen = 0
    for _ in range(60):
        before, state = hand.entries(), hand.state()
        hand.page.close(run_before_unload=False)
        hand = fresh()
        if state["exit"]:
            break
        hand.page.locator("#run-offer button").first.click()
        hand.settle()
        assert hand.entries() == before
        after = hand.state()
        assert (after["step"], after["held"], after["sources"]) == (
            state["step"],
            state["held"],
            state["sources"],
        )
        assert len(before) > seen
        seen = len(before)
        one_entry(hand)
    else:
        raise AssertionError("no end")
    assert seen > 30
    context.close()


def one_entry(hand):
    """The next touch that the screen asks for."""
    if hand.caution():
        pass
    elif hand.page.locator(".run-wait, .run-timer .digits").count():
        hand.wait()
    elif (open_ := hand.page.locator(".run-reading .run-enter")).count():
        step = next(s for s in plan(hand)["steps"] if s["anchor"] == hand.step())
        taken = hand.state()["visit"]["readings"]
        n, reading = next((n, r) for n, r in enumerate(step["readings"]) if r["id"] not in taken)
        assert open_
        hand.read(likely(step, reading), which=n)
    elif hand.page.locator(".run-answer").count():
        hand.answer(0)
    else:
        hand.main()
    hand.settle()


def test_a_killed_browser_loses_nothing(opened, tmp_path):
    """kill -9 right after an entry was shown as taken."""
    base, chromium = opened
    before: list[dict[str, str]] = []
    for turn in range(3):
        context = chromium.browser_type.launch_persistent_context(
            str(tmp_path / "profile"), executable_path=str(CHROMIUM), args=ARGUMENTS, **PHONE
        )
        page = context.pages[0]
        page.goto(f"{base}lft-010.html")
        hand = Hand(page)
        if turn == 0:
            hand.begin(serial="0001")
        else:
            page.locator("#run-offer button").first.click()
            hand.settle()
            assert hand.entries() == before
        for _ in range(2):
            one_entry(hand)
        before = hand.entries()
        subprocess.run(["pkill", "-KILL", "-f", str(tmp_path / "profile")], check=False)
        time.sleep(0.5)
    assert len(before) >= 5


def test_a_reading_outside_lets_only_the_failing_answer_be_chosen(phone):
    phone.begin()
    go(phone, stop_at="a.prove-it-dead")
    step = next(s for s in plan(phone)["steps"] if s["anchor"] == "a.prove-it-dead")
    phone.read("24.1")
    assert "fail" in phone.page.inner_text(".run-verdict")
    count = len(phone.entries())
    phone.answer(0)
    assert len(phone.entries()) == count, "the passing answer is refused"
    assert "can't be chosen" in phone.page.inner_text(".run-note")
    failing = next(n for n, a in enumerate(step["answers"]) if a["notZero"] and len(a["failed"]) > 1)
    phone.answer(failing)
    assert phone.step() == step["answers"][failing]["to"]
    assert phone.state()["sources"]["battery"]["level"] == 0


def test_a_finding_closes_the_answer_that_says_otherwise(phone):
    """As found 8.6 mm: "Inside" can't be chosen; what is too close to call is asked about once."""
    phone.begin()
    go(phone, stop_at="measure-as-found")
    phone.read("8.3")  # at the limit, and the caliper may be off: neither answer is closed
    count = len(phone.entries())
    phone.answer(1)
    assert len(phone.entries()) == count and "choose it again" in phone.page.inner_text(".run-note")
    phone.read("8.6")
    count = len(phone.entries())
    phone.answer(1)
    assert len(phone.entries()) == count and "You read 8.6 mm" in phone.page.inner_text(".run-note")
    phone.answer(0)
    assert phone.step() == "set-the-bracket", "what agrees with the reading counts at once"
    go(phone, stop_at="measure-as-left")
    phone.read("8.29")
    assert "too close to call" in phone.page.inner_text(".run-verdict"), "the gauge may be off by 0.02 mm"


def test_only_a_warning_that_was_shown_can_be_confirmed(phone):
    """The second of two lies below the screen: one press shows it, by keyboard too; the next confirms both."""
    phone.begin()
    phone.answer(0)
    button, count = phone.page.locator(".run-foot .run-main"), len(phone.entries())
    assert button.inner_text() == "Next warning (2 of 2)"
    button.press("Enter")
    assert phone.page.evaluate("document.activeElement.getAttribute('aria-label')") == "Caution"
    panel, foot = phone.page.locator(".panel:focus").bounding_box(), button.bounding_box()
    assert panel["y"] >= 0 and panel["y"] + panel["height"] <= foot["y"], "all of it is on the screen"
    assert len(phone.entries()) == count, "nothing is confirmed yet"
    assert button.inner_text() == "I have read all 2 and keep to them"
    phone.press("Called away")
    phone.press("TE is back")
    phone.back()
    assert button.inner_text() == "Next warning (2 of 2)", "after a pause they are shown again"
    phone.cautions()
    assert phone.entries()[-1]["kind"] == "caution"


@pytest.mark.parametrize("away", [0, 1_000_000, -40], ids=["to the top", "to the end", "a little up"])
def test_a_warning_longer_than_the_screen_ends_wherever_the_page_is_moved_between(phone, away):
    """Pressing leads on through what was not shown yet, also when a browser first scrolls to a button far below."""
    phone.begin()
    phone.page.set_viewport_size({"width": 360, "height": 420})
    phone.page.evaluate("document.documentElement.style.setProperty('font-size', '34px', 'important')")
    phone.answer(0)
    button, pressed = phone.page.locator(".run-foot .run-main"), 0
    count = len(phone.entries())
    while "I have read" not in button.inner_text():
        button.evaluate("(b) => b.click()")
        pressed += 1
        assert pressed < 40
        phone.page.evaluate(f"scrollTo(0, {away} < 0 ? scrollY + {away} : {away})")
        phone.page.wait_for_timeout(20)
    assert pressed >= 4, "no stretch of it was passed over"
    assert len(phone.entries()) == count


def test_a_number_in_the_keys_is_not_thrown_away_by_an_answer(phone):
    phone.begin()
    go(phone, stop_at="measure-as-found")
    phone.page.locator(".run-enter").click()
    for key in ("8", "decimal point", "6"):
        phone.page.locator(".keys").get_by_role("button", name=key, exact=True).click()
    count = len(phone.entries())
    phone.answer(0)
    assert len(phone.entries()) == count and phone.step() == "measure-as-found"
    assert "8.6 stands in the keys and is not entered" in phone.page.inner_text(".run-note")
    assert phone.page.input_value(".run-entry input") == "8.6"
    slow = "(s) => { const keep = s.keep.bind(s); s.keep = async (...all) => { await new Promise((f) => setTimeout(f, 300)); await keep(...all); }; }"
    phone.page.evaluate(f"({slow})(globalThis.kilterRun.store)")
    phone.press("Take it")
    assert phone.entries()[-1]["value"] == "8.6", "on a slow phone too, what was touched is waited for"


def test_what_was_stopped_can_be_closed_and_stands_to_be_gone_on_with(phone):
    """The way in, and the number, revision and DRAFT, stand on the first screen of the page."""
    phone.begin()
    phone.press("Stop here")
    phone.press("Close")
    assert not phone.page.evaluate("document.body.classList.contains('running')")
    assert phone.page.locator("#run-offer button").first.inner_text() == "Go on: B-0412, step 1.1"
    for place in ("#run-offer button >> nth=0", ".title-block >> text=STR-110", ".title-block .draft"):
        box = phone.page.locator(place).bounding_box()
        assert box["y"] + box["height"] <= PHONE["viewport"]["height"], place


def test_a_wait_goes_on_over_a_reload_and_is_not_left_early(phone):
    phone.begin()
    go(phone, stop_at="a.let-the-link-capacitor-drain")
    phone.main()
    assert "The wait is not over" in phone.page.inner_text(".run-note")
    phone.page.locator(".run-wait").click()
    phone.settle()
    phone.page.clock.run_for(100_000)
    assert re.match(r"1:(19|20|21)", phone.page.inner_text(".run-timer .digits"))
    phone.page.reload()
    phone.page.wait_for_selector(".run-timer .digits")
    phone.settle()
    assert phone.page.inner_text(".run-timer .digits").startswith("1:")
    phone.page.clock.run_for(90_000)
    phone.page.wait_for_timeout(100)
    phone.settle()
    assert "waited" in phone.page.inner_text(".run-timer")
    waits = [e for e in phone.entries() if e["kind"] == "wait"]
    assert len(waits) == 1 and int(waits[0]["waited"]) >= 180


def test_a_wrong_answer_keeps_both_and_takes_the_proof_back(phone):
    phone.begin()
    go(phone, stop_at="relax-the-rail-spring")
    assert phone.state()["sources"]["battery"]["level"] == 3
    phone.page.locator(".run-more summary").click()
    phone.press("was answered wrongly")
    assert phone.step() == "a.prove-it-dead"
    assert phone.state()["sources"]["battery"]["level"] == 2
    kinds = [e["kind"] for e in phone.entries()]
    assert kinds.count("answer") >= 2 and kinds[-1] == "withdrawn"


def test_another_person_takes_over_lock_by_lock(phone):
    phone.begin()
    go(phone, stop_at="relax-the-rail-spring")
    phone.press("Stop here")
    phone.press("Somebody else takes over")
    phone.page.fill(".run-field input", "te2")
    for lock in phone.page.locator("[data-lock=on]").all()[:2]:
        lock.check()
    for lock in phone.page.locator("[data-lock=off]").all():
        lock.check()
    phone.page.locator(".run-screen .run-main").click()
    phone.settle()
    assert "would be without a lock" in phone.page.inner_text(".run-trouble")
    phone.page.locator(".run-screen .run-main").click()
    phone.settle()
    state = phone.state()
    assert state["worker"] == "te2"
    assert len(state["held"]) == 2
    assert sum(one["lost"] == "unlocked" for one in state["sources"].values()) == 1


def test_of_every_lock_it_is_said_whether_it_is_on(phone):
    phone.begin()
    go(phone, stop_at="relax-the-rail-spring")
    phone.press("Called away")
    phone.press("TE is back")
    count = len(phone.entries())
    phone.press("Go on")
    assert "mains: is the lock on or off?" in phone.page.inner_text(".run-trouble")
    assert len(phone.entries()) == count, "silence about a lock is no answer"
    phone.back(off=("battery",))
    assert phone.entries()[count]["missing"] == "battery"
    assert phone.state()["sources"]["battery"]["lost"] == "unlocked"
    assert phone.state()["held"] == ["mains", "deck"]
    phone.cautions()
    strip = phone.page.inner_text(".run-strip")
    assert "treat as live" in strip
    assert "begin at step A.3" in strip, "where it is locked for the work, not where the work is given up"


def test_from_a_lost_lock_a_button_leads_to_making_it_safe_and_back(phone):
    """Hands inside, the battery's lock gone: A.3 to A.5 once more, nothing else, then on where the work stood."""
    phone.begin()
    go(phone, stop_at="measure-as-found")
    phone.press("Called away")
    phone.press("TE is back")
    phone.back(off=("battery",))
    go(phone, stop_at="measure-as-found")
    readings(phone, {})
    phone.answer(0)
    assert "Do not go on" in phone.page.inner_text(".run-note")
    phone.press("Make it safe again: to step A.3")
    assert phone.state()["detours"] == [
        "a.lock-the-battery-off",
        "a.let-the-link-capacitor-drain",
        "a.prove-it-dead",
    ]
    phone.cautions()
    assert "Making safe again: battery" in phone.page.inner_text(".run-detour")
    go(phone, stop_at="measure-as-found")
    state = phone.state()
    assert (state["detour"], state["making"], state["again"]) == ("", [], [])
    assert state["sources"]["battery"]["level"] == 3 and "battery" in state["held"]
    assert phone.page.locator(".run-make-safe").count() == 0
    readings(phone, {})
    phone.answer(0)
    assert phone.step() == "set-the-bracket"


def test_idle_minutes_end_every_proof(phone):
    phone.begin()
    go(phone, stop_at="relax-the-rail-spring")
    phone.page.clock.run_for(31 * 60 * 1000)
    phone.page.wait_for_timeout(200)
    phone.settle()
    assert phone.state()["paused"] == "idle"
    assert "Nothing was entered for too long" in phone.page.inner_text(".run-sheet")


def test_the_serial_number_is_held_against_applies_to(phone):
    phone.page.wait_for_selector("#run-offer button")
    phone.page.locator("#run-offer button").last.click()
    phone.page.fill("[name=asset]", "B-1")
    phone.page.fill("[name=worker]", "TE")
    phone.page.fill("[name=serial]", "0399")
    phone.page.locator(".run-tick input").check()
    phone.page.click("button[type=submit]")
    assert "not among those" in phone.page.inner_text(".run-trouble")
    assert phone.page.evaluate("globalThis.kilterRun.head") is None


def test_looking_back_takes_no_entry(phone):
    phone.begin()
    go(phone, stop_at="a.lock-the-battery-off")
    count, step = len(phone.entries()), phone.step()
    phone.press("Look back")
    phone.press("Further back")
    assert "You are looking back" in phone.page.inner_text(".run-looking")
    phone.press("To where you are")
    assert (len(phone.entries()), phone.step()) == (count, step)


def test_a_remark_is_kept_with_the_hash_of_its_step(phone):
    phone.begin()
    phone.page.locator(".run-more summary").click()
    phone.press("This step is wrong")
    phone.page.fill("textarea", "The lamp is on the left now.")
    phone.press("Keep it")
    runs = phone.page.evaluate("globalThis.kilterRun.store.runs()")
    remark = next(r for r in runs if r["kind"] == "remark")
    (entry,) = phone.page.evaluate("(id) => globalThis.kilterRun.store.entries(id)", remark["id"])
    step = plan(phone)["steps"][0]
    assert (entry["text"], entry["hash"]) == ("The lamp is on the left now.", step["hash"])
