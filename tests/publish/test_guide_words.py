"""The glossary has every word once, and first uses lead to it."""

import re

import pytest
from tests.publish.guide_frame import page

from kilter.check.flow.fields import EXITS, HANDS
from kilter.model.base import fold, slugify
from kilter.model.document import ROLES
from kilter.model.front import (
    ENERGY_KINDS,
    KINDS,
    TASKS,
    CheckFront,
    EnergySource,
    Needs,
    ProcedureFront,
    ProfileFront,
    Switch,
    Symptom,
    Tool,
)
from kilter.model.training import Objective, PaperPlan, TrainingFront
from kilter.publish.site import handbook
from kilter.publish.site.guide import WORDS, GuidePage, guide_files, terms
from kilter.publish.site.prose import Terms, entry_key, entry_of, prose
from kilter.publish.site.scope import Directory
from kilter.read.blocks import DIRECTIVES
from kilter.read.fields import STAGE_FIELDS, STEP_FIELDS
from kilter.read.figures import FIGURE_OPTIONS
from kilter.read.front import field_names
from kilter.read.inline import BRACE_MARKS
from kilter.read.training import TRAINING_DIRECTIVES

MODELS = (
    TrainingFront,
    Objective,
    PaperPlan,
    ProcedureFront,
    CheckFront,
    ProfileFront,
    EnergySource,
    Needs,
    Switch,
    Tool,
    Symptom,
)
KEYS = {name for model in MODELS for name in field_names(model)}
NEEDED = {
    *ROLES,
    *STEP_FIELDS,
    *STAGE_FIELDS,
    *FIGURE_OPTIONS,
    *DIRECTIVES,
    *TRAINING_DIRECTIVES,
    *BRACE_MARKS,
    *EXITS,
    *HANDS,
    *TASKS,
    *KINDS,
    *ENERGY_KINDS,
    *KEYS,
}


def entries() -> list[str]:
    return [entry_key(word) for row in page("words").markdown.splitlines() if (word := entry_of(row))]


def rendered(of: GuidePage) -> str:
    return handbook.guide_page(handbook.resolver(Directory({})), of.address).body


def test_every_word_of_the_writing_form_is_explained():
    assert NEEDED - set(entries()) == set()


def test_every_word_is_explained_once_and_has_an_address_of_its_own():
    found = entries()
    assert sorted(found) == sorted(set(found))
    html = rendered(page("words"))
    ids = re.findall(r'<li id="([^"]+)">', html)
    assert sorted(ids) == sorted(slugify(e) for e in found)
    assert len(set(re.findall(r'id="([^"]+)"', html))) == len(re.findall(r'id="', html))


def test_every_word_is_used_on_another_page_or_is_part_of_the_writing_form():
    others = fold(" ".join(p.markdown for p in guide_files() if p.address != WORDS))
    assert [e for e in entries() if e not in NEEDED and e.removesuffix("s") not in others] == []


@pytest.mark.parametrize("name", ["start", "reference", "traps", "reviewer"])
def test_the_first_use_of_a_word_leads_to_its_entry(name):
    html = rendered(page(name))
    text = re.sub(r"<pre>.*?</pre>|<h\d.*?</h\d>", "", html, flags=re.S)
    linked = re.findall(rf'<a href="{WORDS}#([^"]+)" class="term">', html)
    assert len(linked) == len(set(linked)) >= 5
    for word in re.findall(r"<code>([^<]+)</code>", text):
        if entry_key(word) in terms():
            assert slugify(entry_key(word)) in linked, word


def test_only_the_first_use_is_linked_and_none_inside_a_link():
    html = prose("`a` and `a`, [`b`](x), *b*", lambda t: t, "here", Terms({"a": "w#a", "b": "w#b"}))
    assert html.count('href="w#a"') == 1 and html.count('href="w#b"') == 1
    assert '<a href="x"><code>b</code></a>' in html
