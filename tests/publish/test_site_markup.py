"""Words of authors come out as words."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.publish.site_frame import build_site, guide_example, read, small_library

from kilter.publish.site.assemble import assets
from kilter.publish.site.markup import el, join, link, text

HOSTILE = """<script>alert(1)</script> & "quotes" 'single' <img src=x onerror=alert(1)>"""
DATA = {"type": "application/json", "id": "plan"}
"""A block of data, which no browser runs."""
SCRIPTS = {f"assets/{name}" for name, _ in assets() if name.endswith(".js")}


def test_text_and_attributes_are_escaped():
    assert text('<b> & "') == '&lt;b&gt; &amp; "'
    assert el("p", text("a<b"), cls='x" y', title="'&\"") == (
        '<p class="x&quot; y" title="&#x27;&amp;&quot;">a&lt;b</p>'
    )
    assert link('a"b', text("c")) == '<a href="a&quot;b">c</a>'


def test_void_elements_have_no_end_and_none_leaves_an_attribute_out():
    assert el("img", src="a", alt="", width=None) == '<img src="a" alt="">'
    assert join([text("a"), text("b")], text(", ")) == "a, b"


@pytest.fixture(scope="module")
def hostile_site(tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp("hostile")
    procedures = small_library(folder)
    quoted = HOSTILE.replace("'", "''")
    text = guide_example("procedure")
    text = text.replace("title: Replace the door switch", f"title: '{quoted}'")
    text = text.replace("- does not heat with the door shut: {also: [cold, no heat]}", f"- '{quoted}'")
    text = text.replace("writers: [AB]", f"writers: ['{quoted}']")
    escaped = HOSTILE.replace("<", "\\<")
    text = text.replace("# Replace the door switch", f"# {escaped}")
    text = text.replace("Fit a new", f"Read {escaped}. Fit a new")
    text = text.replace("maker's manual p. 8", HOSTILE)
    text = text.replace("Block X1\n", f"Block {HOSTILE}\n")
    text = text.replace(":alt: The back", f":alt: {HOSTILE} The back")
    (procedures / "trl-110.md").write_text(text, encoding="utf-8")
    (procedures / "front.md").write_text(
        f"# Front\n\n{HOSTILE}\n\n[x](javascript:alert(1))\n", encoding="utf-8"
    )
    return build_site(folder, folder / "out")


def test_no_word_of_an_author_becomes_markup(hostile_site: Path):
    """Every page of a library full of markup holds only our own elements, and the words as written."""
    assert (hostile_site / "trl-110.html").is_file()
    for page in hostile_site.glob("*.html"):
        found = read(page)
        for tag, attributes in found.tags:
            assert tag != "script" or attributes.get("src") in SCRIPTS or attributes == DATA, page.name
            assert not [a for a in attributes if a.startswith("on")], page.name
            assert attributes.get("src") != "x", page.name
            assert not attributes.get("href", "").lower().startswith(("javascript:", "data:")), page.name
    words = read(hostile_site / "trl-110.html").text
    assert words.count(" ".join(HOSTILE.split())) >= 5
