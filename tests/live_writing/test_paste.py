"""Pasted text becomes headings and steps; nothing is marked by itself and no word is lost."""

import re
import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kilter.diagnostic import Severity
from kilter.live.writing.paste import pasted
from kilter.live.writing.plain import prose, tidied
from kilter.read.document import read_text
from kilter.source import Source

FRONT = "---\nkind: procedure\ntask: test\nnumber: AB-1\nrevision: A\nequipment: x\ntitle: T\n---\n"
"""Enough for the reader; what the checks say of it does not matter here."""


def words(text):
    return re.findall(r"[^\W_]+", unicodedata.normalize("NFC", tidied(text)).casefold())


def lost(given_text, body):
    there = set(words(body))
    return [w for w in words(given_text) if w not in there]


def read(body):
    reading = read_text(Source("a.md", FRONT + body))
    assert reading.document is not None, reading.findings
    return reading


def titles(body):
    document = read(body).document
    return [(stage.title, [step.title for step in stage.steps]) for stage in document.stages]


TABLE = {
    "numbered": (
        "Change the pump\n1. Unplug the lead.\n2. Undo the nuts.",
        [("The work", ["Unplug the lead", "Undo the nuts"])],
    ),
    "step words": (
        "Step 1: Unplug it\nStep 2 - Open the lid\nSTEP 3 Close the lid",
        [("The work", ["Unplug it", "Open the lid", "Close the lid"])],
    ),
    "capitals are stages": (
        "MAKE SAFE\n1) Unplug it\n\nTAKE OFF THE PCB\n1) Pull it out",
        [("Make safe", ["Unplug it"]), ("Take off the PCB", ["Pull it out"])],
    ),
    "a long sentence has a short title": (
        "1. Pull the plug out of the wall, then lock the plug in its case and keep the key.",
        [("The work", ["Pull the plug out of the wall"])],
    ),
    "paragraphs that give an order are steps": (
        "The pump\n\nIt hums.\n\nUnplug the pump.\n\nOpen the lid.",
        [("The work", ["Unplug the pump", "Open the lid"])],
    ),
    "a heading over words alone is a step": (
        "# Pump\n\n## Open it\nFour screws hold the lid.",
        [("The work", ["Open it"])],
    ),
    "a heading over an order is a stage": (
        "# Pump\n\n## Open it\nUndo four screws.",
        [("Open it", ["Undo four screws"])],
    ),
}


@pytest.mark.parametrize("name", TABLE)
def test_plain_text_becomes_stages_and_steps(name):
    text, wanted = TABLE[name]
    body = pasted(text).body()
    assert titles(body) == wanted
    assert lost(text, body) == []


def test_a_warning_stands_before_the_step_that_follows():
    body = pasted(
        "1. Unplug it\nWARNING: Hot plate. It can burn the hand. Let it cool.\n2. Open the lid"
    ).body()
    stage = read(body).document.stages[0]
    assert [[p.word for p in step.panels] for step in stage.steps] == [[], ["warning"]]
    assert "**Hot plate.** It can burn the hand." in body


def test_the_number_of_a_step_stays_as_its_name():
    body = pasted("1. Open the lid\n2.1 Pull it\n\nCLOSE\n1. Shut the lid").body()
    assert re.findall(r"(?m)^:id: (.*)$", body) == ["step-1", "step-2-1", "step-1-2"]


def test_a_table_keeps_its_cells():
    body = pasted("Part\tQty\nNut | bolt\t2\n").body()
    assert "| Part | Qty |\n| --- | --- |\n| Nut \\| bolt | 2 |" in body


def test_quotes_are_straight_and_unseen_signs_gone():
    assert (
        pasted("“Low” battery’s lamp\u200b is\u00a0dark: it stays so.").body()
        == '"Low" battery\'s lamp is dark: it stays so.\n'
    )


def test_braces_of_a_heading_are_no_mark():
    body = pasted("# Pump\n\n## Make safe {shared}\n1. Unplug it\n").body()
    assert "## Make safe (shared)" in body and not read(body).document.stages[0].shared


def test_effects_are_left_as_they_are():
    body = pasted("1. Unplug the lift and lock it. Wait 5 min. Tighten to 22 Nm +/- 2.").body()
    assert "Unplug the lift and lock it. Wait 5 min. Tighten to 22 Nm +/- 2." in body
    assert not re.search(r"\{(isolates|wait|torque)\}", body)


HTML = """<html><head><title>Untitled</title><style>p {color: red}</style></head><body>
<h1>Change the pump</h1><p>Some <b>bold</b> words &amp; a &lt;tag&gt;.</p>
<h2>Make safe</h2><ol><li>Unplug <b>it </b>now<ul><li>a lead</li></ul></li><li><p>Lock it</p><p>Keep the key</p></li></ol>
<h2>Checks</h2><h3>Measure</h3><p>Below 1 V.<br>Twice.</p><table><tr><th>A</th><th>B</th></tr><tr><td>1</td></tr></table>
<p class=MsoListParagraph>3.<span>   </span>Close the lid</p></body>"""


def test_formatted_text_keeps_headings_lists_bold_and_tables():
    result = pasted("ignored", HTML)
    body = result.body()
    assert result.title == "Change the pump"
    assert titles(body) == [
        ("Make safe", ["Unplug it now", "Lock it"]),
        ("Measure", ["Close the lid"]),
    ]
    assert "**Checks**" in body, "a heading with nothing to do right under it opens the next stage"
    assert "Unplug **it** now" in body and "- a lead" in body and "| A | B |" in body
    assert "color" not in body and "Untitled" not in body
    shown = (
        re.sub(r"(?s)<(style|title)>.*?</\1>|<[^>]*>", " ", HTML)
        .replace("&amp;", " ")
        .replace("&lt;", " ")
        .replace("&gt;", " ")
    )
    assert lost(shown, body) == []


LINE = st.one_of(
    st.text(max_size=60),
    st.builds(
        lambda begin, rest: begin + rest,
        st.sampled_from(
            ["1. ", "2) ", "Step 3: ", "- ", "• ", "WARNING: ", "Note: ", "a) ", "## ", "\t", "    ", "> ", "```",
             ":::{danger} ", ":id: ", "---", "===", "<b>", "[a]: ", "| a |", "MAKE SAFE ", "1.2.3 ", "+ ", "~~~", "{read}`"]
        ),
        st.text(alphabet=st.characters(codec="utf-8"), max_size=30),
    ),
)  # fmt: skip
TEXT = st.lists(LINE, max_size=12).map("\n".join)


@settings(max_examples=400, deadline=None)
@given(TEXT)
def test_no_word_of_any_text_is_lost(text):
    result = pasted(text)
    assert lost(text, result.body()) == []
    result.body("Title")


@settings(max_examples=250, deadline=None)
@given(TEXT)
def test_pasted_text_is_read_as_words_only(text):
    found = [d for d in read(pasted(text).body("T")).findings if d.severity is Severity.ERROR]
    assert [d for d in found if d.rule not in ("empty-heading", "missing-title", "mark-outside-step")] == []


TAGS = ["p", "h1", "h2", "h3", "ol", "ul", "li", "b", "table", "tr", "td", "br", "i", "div"]
PIECE = st.one_of(
    st.sampled_from([f"<{t}>" for t in TAGS] + [f"</{t}>" for t in TAGS]),
    st.text(alphabet=st.characters(codec="utf-8", exclude_characters="<&>*"), max_size=25),
)


@settings(max_examples=400, deadline=None)
@given(st.lists(PIECE, max_size=25))
def test_no_word_of_any_formatted_text_is_lost(pieces):
    html = "".join(pieces)
    shown = re.sub(r"<(b|i|/b|/i)>", "", html)
    body = pasted("", html).body().replace("*", "")
    assert lost(re.sub(r"<[^>]*>", " ", shown), body) == []


ODD = st.sampled_from(
    [
        "<![if !x]>",
        "<![endif]>",
        "<![odd[",
        "<!",
        "<!--",
        "-->",
        "<?x ",
        "</",
        "<a b='",
        "&#x",
        "&bogus;",
        "<script>",
        "<title>",
        "]]>",
    ]
)


@settings(max_examples=300, deadline=None)
@given(st.lists(PIECE | ODD | st.text("<>&!-[]? ab", max_size=8), max_size=20).map("".join))
def test_broken_formatting_never_raises(html):
    assert pasted("", html).body().endswith("\n")


def test_the_conditions_of_a_word_processor_are_passed_over():
    html = "<p class=MsoListParagraph><![if !supportLists]>1.<span> </span><![endif]>Unplug it.</p><!--EndFragment-->"
    assert titles(pasted("", html).body()) == [("The work", ["Unplug it"])]


@settings(max_examples=200, deadline=None)
@given(st.text(max_size=60))
def test_words_made_safe_hold_no_mark(text):
    rendered = read("# T\n\n" + prose(tidied(text)) + "\n")
    assert [d for d in rendered.findings if d.rule in ("stray-brace", "unknown-role", "raw-html")] == []
