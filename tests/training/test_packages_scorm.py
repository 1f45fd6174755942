"""The package for learning platforms, in two public runtimes behind a strict table."""

from __future__ import annotations

import io
import json
import zipfile

import pytest
from tests.training.papers import PICTURES, quiz
from tests.training.scorm_host import platform, runtimes

from kilter.publish.site import words
from kilter.publish.training.packages.scorm import manifest, scorm_package
from kilter.publish.training.packages.scorm_check import faults
from kilter.publish.training.packages.zipped import zipped

pytestmark = pytest.mark.browser
RIGHT = {0: 0, 1: 1, 2: 2, 3: 3, 4: 0}
"""Right choice of each question of `papers`."""


@pytest.fixture(scope="module")
def scripts():
    return runtimes()


@pytest.fixture
def server(scripts, tmp_path):
    with platform(scripts) as (address, held):
        held.package(scorm_package(quiz(tmp_path), PICTURES))
        yield address, held


class Trainee:
    """Somebody at a phone, in front of a package that a platform has started."""

    def __init__(self, chromium, address, kind="again"):
        self.context = chromium.new_context(viewport={"width": 400, "height": 800})
        self.page = self.context.new_page()
        self.trouble = []
        self.page.on("pageerror", lambda e: self.trouble.append(str(e)))
        self.page.goto(f"{address}/{kind}.html")
        self.frame = self.page.frame_locator("iframe")

    def press(self, name):
        self.frame.get_by_role("button", name=name, exact=True).click()

    def heading(self):
        return self.frame.locator("#quiz h2").inner_text()

    def answer(self, choices, first="Begin"):
        """The choices by number of question, from where the paper stands; None leaves one out."""
        if first:
            self.press(first)
        for n, choice in choices.items():
            assert self.heading() == f"Question {n + 1} of 5"
            if choice is not None:
                self.frame.locator("input[name=choice]").nth(choice).check()
            self.press("To the end" if n == 4 else "Next")

    def hand_in(self):
        self.press("Hand in")
        return self.heading()

    def table(self):
        return self.page.evaluate("({ faults: table.faults, last: table.last, state: table.state() })")

    def close_frame(self):
        """As a platform does it: the frame goes, the page stays."""
        self.page.evaluate("document.querySelector('iframe').remove()")
        self.page.wait_for_function("table.state() === 'finished'")
        self.page.wait_for_load_state("networkidle")
        found = self.table()
        self.context.close()
        assert found["faults"] == [] and self.trouble == []
        return found["last"]


@pytest.mark.parametrize("kind", ["again", "hosted"])
def test_started_closed_in_the_middle_resumed_and_passed(chromium, server, kind):
    address, held = server
    one = Trainee(chromium, address, kind)
    one.answer({0: 0, 1: 1})
    assert one.table()["last"]["cmi.core.lesson_status"] == "incomplete"
    assert "cmi.core.score.raw" not in one.table()["last"]
    assert one.close_frame()["cmi.core.exit"] == "suspend"
    assert held.kept["cmi.core.lesson_status"] == "incomplete" and ";01---;" in held.kept["cmi.suspend_data"]
    again = Trainee(chromium, address, kind)
    again.answer({2: 2, 3: 3, 4: 1}, "Go on where you stopped")
    assert again.hand_in() == "Passed"
    assert again.frame.get_by_text("4 of 5 right: 80 %").is_visible()
    last = again.close_frame()
    assert (last["cmi.core.lesson_status"], last["cmi.core.score.raw"], last["cmi.core.exit"]) == ("passed", "80", "")  # fmt: skip
    results = [last[f"cmi.interactions.{n}.result"] for n in range(5)]
    assert results == ["correct"] * 4 + ["wrong"]
    assert held.kept["cmi.core.lesson_status"] == "passed"


@pytest.mark.parametrize("kind", ["again", "hosted"])
def test_too_few_right_is_not_passed(chromium, server, kind):
    address, held = server
    one = Trainee(chromium, address, kind)
    one.answer({0: 0, 1: 1, 2: 0, 3: 0, 4: None})
    one.frame.get_by_text("No answer yet to these").wait_for()
    assert one.hand_in() == "Not passed"
    last = one.close_frame()
    assert (last["cmi.core.lesson_status"], last["cmi.core.score.raw"]) == ("failed", "40")
    assert "cmi.interactions.4.student_response" not in last and last["cmi.interactions.4.result"] == "wrong"
    assert held.kept["cmi.core.lesson_status"] == "failed"


@pytest.mark.parametrize("kind", ["again", "hosted"])
def test_one_wrong_answer_about_safety_fails_whatever_the_score(chromium, server, kind):
    address, _ = server
    one = Trainee(chromium, address, kind)
    one.answer(RIGHT | {1: 0})
    assert one.hand_in() == "Not passed"
    one.frame.get_by_text("Not right: 2.").wait_for()
    last = one.close_frame()
    assert (last["cmi.core.lesson_status"], last["cmi.core.score.raw"]) == ("failed", "80")


def test_answered_once_more_the_numbers_follow_on(chromium, server):
    address, _ = server
    one = Trainee(chromium, address)
    one.answer(RIGHT | {1: 0})
    one.hand_in()
    one.press("Answer once more")
    one.answer(RIGHT, first="")
    assert one.hand_in() == "Passed"
    last = one.close_frame()
    assert last["cmi.core.lesson_status"] == "passed" and last["cmi.interactions.9.result"] == "correct"


def test_a_server_that_is_gone_is_told_and_asked_again(chromium, server):
    address, held = server
    one = Trainee(chromium, address)
    one.answer(RIGHT)
    held.gone = True
    assert one.hand_in() == "Passed"
    one.frame.get_by_text("is not yet stored").wait_for()
    assert held.kept["cmi.core.lesson_status"] == "incomplete"
    held.gone = False
    one.press("Send again")
    one.frame.get_by_text("says that the result is stored").wait_for()
    assert held.kept["cmi.core.lesson_status"] == "passed"
    assert one.table()["faults"] == []
    one.context.close()


def test_other_questions_than_those_begun_are_begun_afresh(chromium, server):
    address, held = server
    held.held = {"cmi.suspend_data": "k1;TRN-1;A;ffffffff;TRN-1-A-A1-00000A;0123-;0;open", "cmi.core.lesson_status": "incomplete"}  # fmt: skip
    one = Trainee(chromium, address)
    one.frame.get_by_text("These are other questions").wait_for()
    one.answer({0: 0})
    assert one.heading() == "Question 2 of 5"
    one.context.close()


def test_what_is_passed_stays_passed(chromium, server):
    address, held = server
    held.held = {"cmi.core.lesson_status": "passed"}
    one = Trainee(chromium, address)
    one.frame.get_by_text("passed already").wait_for()
    one.answer(RIGHT | {0: 3, 1: 3})
    assert one.hand_in() == "Not passed"
    assert one.table()["last"] == {}
    one.context.close()


def test_from_a_file_and_offline_it_says_that_nothing_is_recorded(chromium, tmp_path):
    with zipfile.ZipFile(io.BytesIO(scorm_package(quiz(tmp_path), PICTURES))) as archive:
        archive.extractall(tmp_path / "package")
    context = chromium.new_context(viewport={"width": 360, "height": 700}, offline=True)
    page = context.new_page()
    trouble = []
    page.on("console", lambda m: trouble.append(m.text) if m.type in ("error", "warning") else None)
    page.on("pageerror", lambda e: trouble.append(str(e)))
    address = (tmp_path / "package" / "index.html").as_uri()
    page.goto(address)
    page.get_by_text("Results are not recorded here").wait_for()
    page.get_by_role("button", name="Begin").click()
    assert page.locator("#quiz h2").inner_text() == "Paper A", "without a code nobody could be marked"
    page.get_by_label("Your short code").fill("P17")
    page.get_by_role("button", name="Begin").click()
    page.locator("input[name=choice]").nth(0).check()
    page.wait_for_timeout(200)
    page.reload()
    page.get_by_role("button", name="Go on where you stopped").click()
    assert page.locator("#quiz h2").inner_text() == "Question 2 of 5"
    for n in range(1, 5):
        page.locator("input[name=choice]").nth(RIGHT[n]).check()
        page.get_by_role("button", name="To the end" if n == 4 else "Next", exact=True).click()
    page.get_by_role("button", name="Hand in").click()
    line = page.locator(".quiz-line").inner_text()
    assert line.startswith("KTR1;k1;TRN-1;A;") and ";01230;0;done;" in line and ";P17;100;passed;" in line
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    assert trouble == []
    context.close()


MUTANTS = {
    "Initialize without its argument": ('LMSInitialize("")', "LMSInitialize()"),
    "Commit without its argument": ('LMSCommit("")', "LMSCommit()"),
    "Finish without its argument": ('LMSFinish("")', "LMSFinish(null)"),
    "no word that it is incomplete": ('this.#set("cmi.core.lesson_status", "incomplete");\nthis.#commit();', ""),
    "a status of its own": ('mark.passed ? "passed" : "failed"', '"done"'),
    "an hour of one digit": ('padStart(4, "0")}:', 'padStart(1, "0")}:'),
    "minutes above 59": ("two(Math.floor(seconds / 60) % 60)", "two(75)"),
    "exit normal": ('done ? "" : "suspend"', 'done ? "normal" : "normal"'),
    "score as a number": ('"cmi.core.score.raw", String(mark.percent)', '"cmi.core.score.raw", mark.percent'),
    "score above 100": ('"cmi.core.score.raw", String(mark.percent)', '"cmi.core.score.raw", String(mark.percent + 101)'),
    "score with a comma": ('"cmi.core.score.raw", String(mark.percent)', '"cmi.core.score.raw", `${mark.percent},5`'),
    "score before its verdict": ('this.#set("cmi.core.score.min", "0");', 'this.#set("cmi.core.score.raw", "0"); this.#commit(); this.#set("cmi.core.score.min", "0");'),
    "verdict without a score": ('this.#set("cmi.core.score.raw", String(mark.percent));', ""),
    "least score below 0": ('"cmi.core.score.min", "0"', '"cmi.core.score.min", "-1"'),
    "result not in the list": ('? "correct" : "wrong"', '? "correct" : "incorrect"'),
    "answer in capitals": ("CHOICE_LETTERS[Number(given)].toLowerCase()", "CHOICE_LETTERS[Number(given)]"),
    "answer in words": ("CHOICE_LETTERS[Number(given)].toLowerCase()", "question.choices[Number(given)].text"),
    "type hotspot": ('.type`, "choice"', '.type`, "hotspot"'),
    "type after the answer": ('this.#set(`${place}.type`, "choice");', ""),
    "identifier with a blank": ("`${place}.id`, question.wire", "`${place}.id`, `${question.wire} x`"),
    "numbers with a gap": ("cmi.interactions.${first + n}", "cmi.interactions.${first + 2 * n}"),
    "every answer under one number": ("cmi.interactions.${first + n}", "cmi.interactions.0"),
    "more than 4,096 characters kept": ('"cmi.suspend_data", code', '"cmi.suspend_data", code.padEnd(4097, ";")'),
    "place of more than 255": ("String(at + 1)", 'String(at + 1).padStart(256, "0")'),
    "answers read back": ('this.#get("cmi.interactions._count")', 'this.#get("cmi.interactions.0.result")'),
    "an element that is not there": ('"cmi.core.score.max"', '"cmi.core.score.scaled"'),
    "written after Finish": ('this.#yes(() => this.api.LMSFinish(""));', 'this.#yes(() => this.api.LMSFinish("")); this.#set("cmi.core.exit", "");'),
    "Finish twice": ('this.#yes(() => this.api.LMSFinish(""));', 'this.#yes(() => this.api.LMSFinish("")); this.#yes(() => this.api.LMSFinish(""));'),
    "no time of the session": ('this.#set("cmi.core.session_time", spanOf(Date.now() - this.began));', ""),
}  # fmt: skip
"""Faults put into the package's script; the runtimes take most of them."""


DRIVEN = """async (answers) => {
  const until = async (found) => {
    for (let n = 0; n < 5000; n++) { const there = found(); if (there) return there; await new Promise((r) => setTimeout(r, 2)); }
    throw new Error(`not found: ${found}`);
  };
  const frame = await until(() => document.querySelector("iframe"));
  const button = (name) => until(() => [...(frame.contentDocument?.querySelectorAll("#quiz button") ?? [])].find((b) => b.textContent === name));
  const press = async (name) => (await button(name)).click();
  await press("Begin");
  for (const [n, choice] of answers.entries()) {
    await until(() => frame.contentDocument.querySelector("#quiz h2")?.textContent === `Question ${n + 1} of 5`);
    frame.contentDocument.querySelectorAll("input[name=choice]")[choice].click();
    await press(n === 4 ? "To the end" : "Next");
  }
  await press("Hand in");
  await until(() => frame.contentDocument.querySelector(".quiz-score"));
  frame.remove();
  await new Promise((r) => setTimeout(r, 60));
  return table.faults;
}"""
"""A whole paper inside the page: a click from outside takes fifty times as long."""


def test_the_table_catches_seeded_faults(chromium, server, tmp_path):
    address, held = server
    whole = dict(held.files)
    script = whole["/pkg/assets/quiz.js"].decode()
    missed = []
    held.forgets = True
    answers = [*(RIGHT | {0: 3}).values()]
    one = Trainee(chromium, address)
    assert one.page.evaluate(DRIVEN, answers) == [], "the package as it is has none"
    for name, (old, new) in MUTANTS.items():
        assert old in script, name
        held.files = whole | {"/pkg/assets/quiz.js": script.replace(old, new, 1).encode()}
        one.page.goto(f"{address}/again.html")
        found = one.page.evaluate(DRIVEN, answers)
        print(f"{'caught' if found else 'MISSED'}: {name}: {'; '.join(found[:1])}")
        missed += [] if found else [name]
    one.context.close()
    print(f"{len(MUTANTS) - len(missed)} of {len(MUTANTS)} seeded faults caught")
    assert missed == []


def test_same_bytes_on_two_runs(tmp_path):
    one = scorm_package(quiz(tmp_path), PICTURES)
    words.use()
    assert scorm_package(json.loads(json.dumps(quiz(tmp_path))), dict(PICTURES)) == one
    with zipfile.ZipFile(io.BytesIO(one)) as archive:
        assert archive.namelist()[0] == "imsmanifest.xml"
        assert {i.date_time for i in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}


BROKEN = {
    "no scormtype": ('adlcp:scormtype="sco"', ""),
    "scormtype as 2004 writes it": ("scormtype", "scormType"),
    "SCO in capitals": ('"sco"', '"SCO"'),
    "no resource of that name": ("identifierref=\"", "identifierref=\"no"),
    "no such default": ("default=\"", "default=\"no"),
    "no default": ("default=", "dir="),
    "a file that is not there": ('<file href="assets/quiz.js"/>', '<file href="assets/gone.js"/>'),
    "a file that is not listed": ('<file href="assets/quiz.js"/>', ""),
    "starts what is not listed": ('href="index.html" adlcp', 'href="start.html" adlcp'),
    "masteryscore": ("</item>", "<adlcp:masteryscore>80</adlcp:masteryscore></item>"),
    "another version": ("<schemaversion>1.2", "<schemaversion>9"),
    "no version": ("<schemaversion>1.2</schemaversion>", ""),
    "another schema": ("ADL SCORM", "SCORM"),
    "no metadata": ("<metadata>\n    <schema>ADL SCORM</schema>\n    <schemaversion>1.2</schemaversion>\n  </metadata>", ""),
    "no title": ("<title>DRAFT TRN-1 A The rig</title>", ""),
    "an empty title": ("<title>DRAFT TRN-1 A The rig</title>", "<title> </title>"),
    "a title too long": ("DRAFT TRN-1 A The rig", "x" * 201),
    "identifier that begins with a digit": ('manifest xmlns', 'manifest identifier="1x" xmlns'),
    "two of one identifier": ("-O\"", "-I\""),
    "not webcontent": ("webcontent", "text/html"),
    "parts in another order": ("<organizations", "<resources/><organizations"),
    "no item": ("<item", "<other"),
}  # fmt: skip


@pytest.mark.parametrize("name", BROKEN)
def test_broken_manifests_are_refused(tmp_path, name):
    package = scorm_package(quiz(tmp_path), PICTURES)
    with zipfile.ZipFile(io.BytesIO(package)) as archive:
        inside = {n: archive.read(n) for n in archive.namelist()}
    text = inside["imsmanifest.xml"].decode()
    old, new = BROKEN[name]
    assert old in text, text
    if name == "identifier that begins with a digit":
        text = text.replace('identifier="TRN', 'identifier="1TRN', 1)
    elif name == "no item":
        text = text.replace("<item", "<other").replace("</item", "</other")
    else:
        text = text.replace(old, new, 1)
    inside["imsmanifest.xml"] = text.encode()
    assert faults(package) == []
    assert faults(zipped(inside, "imsmanifest.xml")) != []


def test_packages_that_are_none_are_refused(tmp_path):
    package = scorm_package(quiz(tmp_path), PICTURES)
    with zipfile.ZipFile(io.BytesIO(package)) as archive:
        inside = {n: archive.read(n) for n in archive.namelist()}
    assert faults(b"no zip") == ["it is no zip"]
    assert faults(zipped(inside, "assets/quiz.js")) == ["imsmanifest.xml does not lead"]
    outside = inside | {"index.html": b'<script src="https://example.org/x.js"></script>'}
    assert "index.html asks another address" in faults(zipped(outside, "imsmanifest.xml"))
    named = inside | {"My File.js": b""}
    assert any("can't travel" in each for each in faults(zipped(named, "imsmanifest.xml")))


def test_the_manifest_is_valid_by_the_published_schema(tmp_path):
    import os
    from pathlib import Path

    from lxml import etree

    folder = Path(os.environ.get("KILTER_SCORM_XSD", "/nonexistent"))
    if not (folder / "adlcp_rootv1p2.xsd").is_file():
        pytest.skip("KILTER_SCORM_XSD names no folder with adlcp_rootv1p2.xsd")
    schema = etree.XMLSchema(etree.parse(str(folder / "adlcp_rootv1p2.xsd")))
    schema.assertValid(etree.fromstring(manifest(quiz(tmp_path), ["index.html"])))
