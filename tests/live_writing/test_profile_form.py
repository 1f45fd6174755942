"""Answers become a profile that passes its check, and a profile becomes the same answers again."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from kilter.check.run import check_library
from kilter.diagnostic import Severity
from kilter.live.writing.answers import KINDS, Answers
from kilter.live.writing.profile_form import answers_of, front_text, profile_text
from kilter.live.writing.questions import questions
from kilter.model.library import Library
from kilter.read.document import read_text
from kilter.source import Source

from .forms import MAINS, complete, small

ROOT = Path(__file__).parent.parent.parent
DEMO = sorted((ROOT / "procedures").glob("*/profile.md"))


def errors(found):
    """Errors that answers can cause; which letters the font of the cards has is another matter."""
    return [d for d in found if d.severity is Severity.ERROR and d.rule != "glyph-missing"]


def checked(text):
    library = Library(Path())
    library.add(read_text(Source("profile.md", text)))
    report = check_library(library)
    return library.documents.get("profile.md"), report.found["profile.md"]


def test_a_small_form_gives_a_file_without_a_finding():
    answers = Answers.model_validate(small())
    assert questions(answers) == []
    document, found = checked(profile_text(answers))
    assert found == []
    assert document.profile.sources["mains"].isolate == "Plug out: of the wall, in a locked case."
    assert document.profile.title == document.title == "Hob: model #2"
    assert document.profile.tools[1].name == "range" and document.profile.tools[1].quantity == "2"
    assert set(document.profile.none) == set(KINDS) - {"mains", "heat", "other"}


@pytest.mark.parametrize("kind", KINDS)
def test_a_kind_that_is_not_answered_is_asked_for_by_name(kind):
    form = small()
    del form["energy"][kind]
    asked = questions(Answers.model_validate(form))
    first = next(q for q in asked if q.at == f"energy.{kind}.any")
    assert "Answer yes or no" in first.text and (kind in first.text)


@pytest.mark.parametrize("kind", KINDS)
def test_yes_without_a_source_is_asked_for(kind):
    form = small()
    form["energy"][kind] = {"any": "yes", "sources": []}
    assert f"energy.{kind}.any" in [q.at for q in questions(Answers.model_validate(form))]


MISSING = [
    ("word", "", "word"), ("cut", "", "cut"), ("cut", "never", "cut"), ("isolate", "", "isolate"), ("lockable", "", "lockable"),
    ("prove", "", "prove"), ("release", "", "release"), ("release", "bleed", "bleed"), ("name", "", "name"),
    ("name", "a, b", "name"), ("name", "plate heat", None), ("bleed", "5 min", "release"), ("loaded_by", ["winding"], "release"),
    ("fed_by", ["nothing"], "fed_by"), ("charged_by", ["mains"], "charged_by"), ("isolate", "[fill in: how]", "isolate"),
    ("again", "after", "again_after"), ("again", "", "again"),
]  # fmt: skip


@pytest.mark.parametrize(("key", "value", "asked"), MISSING)
def test_what_is_missing_is_asked_for_at_its_place(key, value, asked):
    form = small()
    form["energy"]["mains"] = {"any": "yes", "sources": [{**MAINS, key: value}]}
    at = f"energy.mains.sources.0.{asked}" if asked else "energy.heat.sources.0.name"
    assert at in [q.at for q in questions(Answers.model_validate(form))]


def test_two_sources_of_a_kind_and_a_ring_of_feeds():
    form = small()
    ring = [
        {**MAINS, "name": "a", "cut": "feed", "isolate": "", "lockable": "no", "fed_by": ["b"]},
        {**MAINS, "name": "b", "cut": "feed", "isolate": "", "lockable": "no", "fed_by": ["a"]},
    ]
    form["energy"]["pneumatic"] = {"any": "yes", "sources": ring}
    asked = {q.at for q in questions(Answers.model_validate(form))}
    assert {"energy.pneumatic.sources.0.fed_by", "energy.pneumatic.sources.1.fed_by"} <= asked


@pytest.mark.parametrize("file", DEMO, ids=lambda f: f.parent.name)
def test_the_demo_profiles_can_be_answered_and_come_back(file):
    document = read_text(Source("profile.md", file.read_text(encoding="utf-8"))).document
    answers = answers_of(document.front)
    assert questions(answers) == []
    again = read_text(Source("profile.md", front_text(answers))).document
    assert again.front == document.front
    assert list(again.profile.sources) == list(document.profile.sources)


@settings(max_examples=300, deadline=None)
@given(complete())
def test_complete_answers_pass_the_check_and_come_back(answers):
    assert questions(answers) == []
    document, found = checked(profile_text(answers))
    assert errors(found) == []
    assert answers_of(document.front) == answers.model_copy(update={"about": ""})


ANYTHING = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=8,
)


@settings(max_examples=200, deadline=None)
@given(st.data())
def test_any_answers_are_refused_or_asked_about_or_pass(data):
    form = small()
    kind = data.draw(st.sampled_from(KINDS))
    form["energy"][kind] = {"any": data.draw(st.sampled_from(["yes", "no", ""])), "sources": data.draw(st.lists(
        st.fixed_dictionaries({}, optional={"name": st.text(max_size=9), "cut": st.sampled_from(["itself", "feed", "never", ""]),
            "release": st.sampled_from(["none", "action", "bleed"]), "word": st.sampled_from(["danger", ""]),
            "isolate": st.text(max_size=9), "lockable": st.sampled_from(["yes", "no", ""]), "prove": st.text(max_size=9),
            "bleed": st.text(max_size=5), "fed_by": st.lists(st.sampled_from(["mains", "x", ""]), max_size=2)}), max_size=2))}  # fmt: skip
    form[data.draw(st.sampled_from(["id", "guards", "zones", "about", "date"]))] = data.draw(ANYTHING)
    try:
        answers = Answers.model_validate(form)
    except ValidationError:
        return
    if questions(answers) == []:
        _, found = checked(profile_text(answers))
        assert errors(found) == []
