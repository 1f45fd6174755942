"""The energy analysis: what is dropped from a sound procedure is missed, at the right place.

Policy and obligations: 29 CFR 1910.147(d) and (e) for the order isolate, hold, release, prove, clear, restore.
Times, sources and titles are invented.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from kilter.check.flow import ABOUT, RULES, Analysis, analyse
from kilter.compute.duration import seconds
from kilter.diagnostic import Diagnostic, Severity
from kilter.model.document import Document
from kilter.read.document import read_text
from kilter.source import Source

PROFILE = """---
kind: equipment
id: tarn-2
title: Patient lift Tarn 2
sources:
  battery: {kind: battery, lockable: true, word: warning, isolate: "Pack out, locked in its case.", prove: "Meter."}
  link capacitor: {kind: capacitor, fed-by: [battery], word: warning, release: bleed, bleed: 5 min, reaccumulates: true}
  gravity: {kind: gravity, lockable: true, word: warning, isolate: "Boom on the stand, pin in.", prove: "Push."}
  spring: {kind: spring, word: warning, release: action, release-from: outside, needs: {releases: [gravity]}}
none: [mains, hydraulic, pneumatic, vacuum, heat, motion, pressure]
guards: [column cover]
zones: {column: [battery, link capacitor, gravity, spring]}
before-service: [boom travel]
---
# Patient lift Tarn 2
"""

FRONT = """---
kind: procedure
task: replacement
number: LFT-120
revision: B
equipment: tarn-2
title: Replace the boom actuator
---
# Replace the boom actuator
"""

BODY = """
## Isolate everything {shared}
:zone: column

### Park the boom
Lower the boom ({runs-on}`battery`) onto the strut stand and fit the locking pin: {isolates}`gravity`.

### Disconnect the battery
Press the red stop, slide the pack out and lock it in its case: {isolates}`battery`.

### Let the link capacitor drain
Wait {wait}`5 min`.

### Unload the spring
Turn the spring screw out until it is loose: {releases}`spring`.

### Take off the column cover
Undo the three screws and remove the {removes}`column cover`.

### Prove zero
Measure at the terminals: {proves}`battery, link capacitor`. Push and pull: {proves}`gravity, spring`.

- All zero: [Carry on](#back)
- Anything moves: [Stop and tag](#stop-and-tag) {not-zero}

## Change the actuator
:zone: column

:::{warning} battery, link capacitor, gravity, spring
**Shock, crushing and recoil.** The boom falls, and the spring can fly out. Park the boom and take out the pack.
:::

### Make it safe
:do: isolate-everything

### Swap the actuator
Drive out both clevis pins and change the {part}`actuator`.

### Close the column
Put the {refits}`column cover` on.

## Return to service

### Clear the lift
Count the tools and send everybody away: {all-clear}`people and tools`.

### Free the boom
Pull the pin and swing the stand down: {restores}`gravity`.

### Put the pack in
Slide the pack in: {restores}`battery`.

### Run the boom
Run the boom up and down ({runs-on}`battery`): {tests}`boom travel`.

- Smooth: [Hand it back](#hand-it-back)
- Jerks: [Stop and tag](#stop-and-tag) {not-ok}

### Hand it back
:exit: returned to service

Sign the sheet.

## Stop here

### Stop and tag
:exit: left locked out, tagged

Lock the pack in its case: {isolates}`battery`. Put the pin in its hole: {isolates}`gravity`. Hang the tag on.
"""


def read(text: str, path: str = "a.md") -> Document:
    document = read_text(Source(path, text)).document
    assert document is not None
    return document


def analysed(body: str, profile: str = PROFILE) -> Analysis:
    return analyse(read(FRONT + body), read(profile, "profile.md"))


def told(body: str, profile: str = PROFILE) -> list[tuple[str, str]]:
    """Rule and the line it points at, cut to its first words."""
    text = {"a.md": (FRONT + body).split("\n"), "profile.md": profile.split("\n")}
    return [(d.rule, text[d.span.path][d.span.line - 1][:24]) for d in analysed(body, profile).findings]


def without(old: str, new: str = "", body: str = BODY) -> str:
    assert body.count(old) == 1, f"{old!r} stands {body.count(old)} times"
    return body.replace(old, new)


def test_the_sound_procedure_is_silent():
    """The example of the format, completed, has nothing to say."""
    assert told(BODY) == []


DROPPED = [
    ("gravity not parked", ": {isolates}`gravity`.\n\n### Disc", ".\n\n### Disc", ("release-order", "Turn the spring screw ou")),
    ("battery left in", "case: {isolates}`battery`.\n\n### Let", "case.\n\n### Let", ("open-before-released", "Undo the three screws an")),
    ("no wait", "Wait {wait}`5 min`.", "Look at the lamp {wait}`1 min`.", ("open-before-released", "Undo the three screws an")),
    ("wait too short", "`5 min`", "`4 min 59 s`", ("open-before-released", "Undo the three screws an")),
    ("range counts its lower end", "`5 min`", "`4–9 min`", ("open-before-released", "Undo the three screws an")),
    ("spring not released", "loose: {releases}`spring`", "loose: {wait}`1 s`", ("open-before-released", "Undo the three screws an")),
    ("cover not marked", "remove the {removes}`column cover`", "look {wait}`1 s`", ("guards-still-on", "Measure at the terminals")),
    ("gravity not proved", "{proves}`gravity, spring`", "{proves}`spring`", ("inside-before-proved", "### Swap the actuator")),
    ("panel too mild", ":::{warning} battery", ":::{caution} battery", ("missing-caution", "Undo the three screws an")),
    ("panel forgets a source", "battery, link capacitor, gravity, spring\n**", "battery, link capacitor, spring\n**", ("missing-caution", "Undo the three screws an")),
    ("cover not put back", "Put the {refits}`column cover` on.", ":hands: controls - nothing is reached at all\n", ("restore-guard-off", "Pull the pin and swing t")),
    ("nobody sent away", "{all-clear}`people and tools`", "{wait}`1 s`", ("restore-people-near", "Pull the pin and swing t")),
    ("gravity not restored", "down: {restores}`gravity`", "down {wait}`1 s`", ("service-still-held", ":exit: returned to servi")),
    ("battery not restored", "Slide the pack in: {restores}`battery`", "Look {wait}`1 s`", ("runs-while-isolated", "Run the boom up and down")),
    ("test not done", "): {tests}`boom travel`", ")", ("service-untested", ":exit: returned to servi")),
    ("tag without a lock", "case: {isolates}`battery`. Put", "case. Put", ("tagged-not-held", ":exit: left locked out, ")),
    ("proof that can't fail", " {not-zero}", "", ("no-failing-answer", "Measure at the terminals")),
    ("test that can't fail", " {not-ok}", "", ("no-failing-answer", "Run the boom up and down")),
    ("failed proof goes on", "- Anything moves: [Stop and tag](#stop-and-tag)", "- Anything moves: [Go on](#back)", ("inside-before-proved", "### Swap the actuator")),
    ("failed test goes on", "- Jerks: [Stop and tag](#stop-and-tag)", "- Jerks: [Hand it back](#hand-it-back)", ("service-untested", ":exit: returned to servi")),
    ("hand back locked", "Sign the sheet.", "Pull the pack and lock it: {isolates}`battery`.", ("service-still-held", ":exit: returned to servi")),
    ("no exit at the end", ":exit: left locked out, tagged\n\nLock", "\nLock", ("dead-end", "### Stop and tag")),
    ("round and round", ":exit: left locked out, tagged\n", ":go-to: #stop-and-tag\n", ("no-way-out", "### Stop and tag")),
    ("as found though opened", ":exit: returned to service", ":exit: left as found", ("left-touched", ":exit: left as found")),
    ("not called", ":do: isolate-everything", ":hands: away", ("unreachable-step", "## Isolate everything {s")),
    ("calls itself", "Wait {wait}`5 min`.", ":do: isolate-everything", ("shared-in-itself", ":do: isolate-everything")),
    ("does while calling", ":do: isolate-everything\n", ":do: isolate-everything\n\nPull {isolates}`battery`.\n", ("do-with-effects", "Pull {isolates}`battery`")),
    ("hands too low", "### Put the pack in", "### Put the pack in\n:hands: away\n", ("hands-too-low", "Slide the pack in: {rest")),
    ("hands unreadable", "### Put the pack in", "### Put the pack in\n:hands: near\n", ("bad-hands", ":hands: near")),
    ("exit unreadable", ":exit: returned to service", ":exit: done", ("bad-exit", ":exit: done")),
    ("clear-of without a reason", "### Swap the actuator", "### Swap the actuator\n:clear-of: spring\n", ("bad-clear-of", ":clear-of: spring")),
    ("clear-of not needed", "### Swap the actuator", "### Swap the actuator\n:clear-of: spring - behind the cross tube of steel\n", ("unneeded-exemption", ":clear-of: spring - behi")),
    ("clear-of what is acted on", "### Unload the spring", "### Unload the spring\n:clear-of: spring - behind the cross tube of steel\n", ("clear-of-acted-on", ":clear-of: spring - behi")),
    ("short reason", "### Put the pack in", "### Put the pack in\n:hands: controls - outside only\n", ("short-reason", ":hands: controls - outsi")),
    ("restore and test at once", "Slide the pack in: {restores}`battery`.", "In: {restores}`battery`, {tests}`boom travel`.", ("restore-not-alone", "In: {restores}`battery`,")),
    ("how it is held", "slide the pack out and lock it in its case", "slide the pack out", ("how-it-is-held", "Press the red stop, slid")),
    ("one answer", "- Jerks: [Stop and tag](#stop-and-tag) {not-ok}\n", "", ("one-answer", "- Smooth: [Hand it back]")),
    ("live again before the hands", "### Swap the actuator\n", "### Swap the actuator\n:hands: open\nPull {loads}`spring`.\n", ("hands-in-restored", "Pull {loads}`spring`.")),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "expected"), [c[1:] for c in DROPPED], ids=[c[0] for c in DROPPED])
def test_what_is_dropped_is_missed(old: str, new: str, expected: tuple[str, str]):
    """Each mistake is told under its rule, at its line, and in few reports."""
    found = told(without(old, new))
    assert expected in found
    assert len(found) <= 5


def test_one_mistake_one_report():
    """Over all mistakes above fewer than 2.5 reports a mistake."""
    counts = [len(told(without(old, new))) for _, old, new, _ in DROPPED]
    assert sum(counts) / len(counts) < 2.5


STAGE = "\n## {title}\n\n### {step}\n"


def simple(*lines: str) -> str:
    return "\n## Work\n\n" + "\n".join(lines) + "\n"


def only(body: str, profile: str = PROFILE) -> Diagnostic:
    found = analysed(body, profile).findings
    assert len(found) == 1, [(d.rule, d.message) for d in found]
    return found[0]


def test_help_lengthens_a_wait_that_is_there():
    """Where a wait is too short, the help says lengthen, not add."""
    found = only(without("`5 min`", "`3 min`"))
    assert (
        found.help == "lengthen the wait in `Let the link capacitor drain`: {wait}`5 min` in all, not 3 min"
    )


def test_help_does_not_ask_for_a_stage_from_inside_itself():
    """A step of the shared stage is never told to ask for that stage."""
    found = analysed(without("case: {isolates}`battery`.\n\n### Let", "case.\n\n### Let")).findings
    assert all(":do:" not in d.help for d in found)


def test_feed_is_blamed_not_the_store():
    """A capacitor that is charged because the battery is in is not reported beside it."""
    every = analysed(without("case: {isolates}`battery`.\n\n### Let", "case.\n\n### Let")).findings
    assert [d.rule for d in every] == ["guards-still-on", "open-before-released"]
    assert every[1].message == "a guard is undone while `battery` is live"
    assert "{isolates}`battery`" in every[1].help


def test_span_is_that_of_the_mark():
    """The column is where the mark begins, not the heading's."""
    found = only(without("loose: {releases}`spring`", "loose {wait}`1 s`"))
    line = (FRONT + without("loose: {releases}`spring`", "loose {wait}`1 s`")).split("\n")[
        found.span.line - 1
    ]
    assert line[found.span.column - 1 :].startswith("{removes}`column cover`")


def test_way_in_has_titles_and_answers():
    """The way names the answers taken."""
    body = without("- Anything moves: [Stop and tag](#stop-and-tag)", "- Anything moves: [Go on](#back)")
    found = next(d for d in analysed(body).findings if d.rule == "inside-before-proved")
    assert ("Prove zero", "Anything moves") in [(h.step, h.answer) for h in found.way]
    assert found.way[-1].step == "Swap the actuator"


def test_findings_in_the_profile_name_both_files():
    """A fault in a shared stage of the profile points there, and back to the step that asks for it."""
    at, end = BODY.index("## Isolate"), BODY.index("## Change")
    shared = (
        BODY[at:end].replace("[Stop and tag](#stop-and-tag)", "[Tag](#tag)").replace("`5 min`", "`1 min`")
    )
    tag = "### Tag\n:exit: left locked out, tagged\n\nHang the tag on.\n"
    found = only(BODY[:at] + BODY[end:], PROFILE + "\n" + shared + tag)
    assert found.span.path == "profile.md"
    assert [label.span.path for label in found.related if "asked for" in label.text] == ["a.md"]


def test_states_before_each_step():
    """Readers' words for the worst state before a step, and what must be true."""
    before = analysed(BODY).before
    swap = {s.name: s for s in before["swap-the-actuator"].sources}
    assert [(s.word, s.required_word) for s in swap.values()] == [("proved zero", "proved zero")] * 4
    assert before["swap-the-actuator"].guards_off == ("column cover",)
    assert before["swap-the-actuator"].hands == "inside"
    cover = {s.name: s.word for s in before["take-off-the-column-cover"].sources}
    assert cover == {
        "battery": "isolated",
        "link capacitor": "released, not yet proved",
        "gravity": "isolated",
        "spring": "released, not yet proved",
    }
    assert {s.word for s in before["park-the-boom"].sources} == {"live", "isolated, still charged"}


def test_ways_and_graph():
    """The graph and the shortest way in are there to be shown."""
    analysis = analysed(BODY)
    assert [h.step for h in analysis.ways("hand-it-back")][-1] == "Hand it back"
    assert analysis.ways("no-such-step") == ()
    assert {e.kind for e in analysis.edges} == {"same", "stage", "call", "back"}
    assert all(e.start < len(analysis.nodes) and e.to < len(analysis.nodes) for e in analysis.edges)
    steps = [h.step for h in analysis.ways("swap-the-actuator")]
    assert all(a != b for a, b in pairwise(steps))


def test_too_large_is_refused(monkeypatch: pytest.MonkeyPatch):
    """Past the bound the document is refused, never accepted."""
    monkeypatch.setattr("kilter.check.flow.MOST_STATES", 20)
    assert "too-large-to-prove" in [d.rule for d in analysed(BODY).findings]


def test_a_profile_and_a_lone_document_say_nothing():
    """Shared stages of a profile are checked where they are asked for."""
    profile = read(PROFILE)
    assert analyse(profile, profile).findings == ()
    assert analyse(read(FRONT + BODY), None).findings == ()


def test_every_rule_has_a_page_text():
    """Names and texts go together, and what was not read says so."""
    assert set(RULES) == set(ABOUT)
    assert {n for n, s in RULES.items() if s is not Severity.ERROR} == {
        "how-it-is-held",
        "hands-in-words",
        "loads-unsaid",
        "work-after-clear",
        "zone-hides-acted-on",
    }


TIMES = [
    ("5 min", 300), ("30 s", 30), ("1.5 h", 5400), ("5–7 min", 300), ("≥ 5 min", 300), ("1 h 30 min", 5400),
    ("90 s–3 min", 90), ("1,5 h", 5400), ("2 days", 172800), ("5", None), ("soon", None), ("0 min", None),
    ("7–5 min", None), ("5 kg", None), ("", None), ("9999 days", None), ("-5 min", None),
]  # fmt: skip


@pytest.mark.parametrize(("text", "value"), TIMES)
def test_times(text: str, value: int | None):
    """Seconds of a time; a range counts its lower end (units: SI brochure, table 8)."""
    assert seconds(text) == value
