"""The words of the interface: every language whole, every key used, nothing left in English on a German phone page."""

from __future__ import annotations

import re
import string
from html.parser import HTMLParser
from pathlib import Path

import pytest
from tests.publish.site_frame import MKDOCS, ROOT, build_site, small_library

from kilter.model.front import ENERGY_KINDS, EnergySource
from kilter.publish.cards.family import KINDS as KINDS_OF_CARDS
from kilter.publish.site import words
from kilter.publish.site.energies import isolate_html, prove_html, release_html
from kilter.publish.view import EXITS, HANDS, STANDING, TASKS, EnergyRow

SITE = Path(words.__file__).parents[1]
MADE = {
    "state",
    "training.kind",
    "training.file",
    "hands",
    "task",
    "kind",
    "signal",
    "effect",
    "said",
    "value",
    "kit",
    "switch",
    "strip",
    "energy",
    "list",
    "search",
    "card",
    "exit",
    "field",
}
"""Tables whose keys are put together from a term of the model."""
SAME = {
    "material",
    "name",
    "start",
    "test",
    "stand",
    "adjustment",
    "op",
    "fp",
    "rp",
    "pt",
    "ot",
    "md",
    "ttp",
    "min",
}
"""Words that may stand on a German page too, or are symbols."""


@pytest.fixture(autouse=True)
def english_again():
    yield
    words.use()


@pytest.mark.parametrize("language", words.languages())
def test_every_language_has_the_same_keys_and_names(language: str):
    first, other = words.read(words.FIRST), words.read(language)
    assert set(first) == set(other)
    for key, said in first.items():
        assert names(said) == names(other[key]), key
        assert other[key].strip(), key


def names(said: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(said) if name is not None}


def test_no_key_is_unused():
    files = [
        f
        for pattern in ("*.py", "*.html", "*.js")
        for f in SITE.rglob(pattern)
        if "words" not in f.parent.name
    ]
    source = "\n".join(f.read_text(encoding="utf-8") for f in files)
    assert [key for key in words.read(words.FIRST) if not used(key, source)] == []
    assert not used("head.no-such-key", source) and not used("script.run.no-such-key", source)


PREFIX = re.compile(r"kilter(?:Word|Count)\(`([\w.-]+)\.\$\{\w+\}`")
"""A helper of the scripts that puts its own table before a key."""


def used(key: str, source: str) -> bool:
    """Whether the source asks for a key: whole, by a helper's prefix, or put together from a term of the model."""
    asked = key.removeprefix(words.FOR_SCRIPTS).removesuffix(".one").removesuffix(".many")
    tails = [asked, *(asked[len(p) + 1 :] for p in set(PREFIX.findall(source)) if asked.startswith(f"{p}."))]
    if any(f"{quote}{tail}{quote}" in source for tail in tails for quote in "\"'`"):
        return True
    tables = [tail.rpartition(".")[0] for tail in tails if "." in tail]
    return any(
        re.search(rf"[\"'`]{re.escape(table)}\.[{{$]", source)
        for table in tables
        if table in MADE or table != asked.rpartition(".")[0]
    )


def test_every_kind_of_question_has_words():
    from kilter.publish.training.questions import KINDS

    assert {k.rpartition(".")[2] for k in words.read("en") if k.startswith("training.kind.")} == set(KINDS)


def test_every_term_of_the_model_has_words():
    assert {k.removeprefix("kind.") for k in words.read("en") if k.startswith("kind.")} == {
        *ENERGY_KINDS,
        "other",
    }
    assert all(words.word(f"task.{task}") == said for task, said in TASKS.items())
    assert all(words.word(f"hands.{level}").casefold() == said.casefold() for level, said in HANDS.items())
    ends = {
        words.word(f"exit.{key}")
        for key in ("returned-to-service", "left-locked-out-tagged", "left-as-found")
    }
    assert ends == set(EXITS.values())
    assert words.word("site.standing") == STANDING
    assert all(words.word(f"card.{kind.name}") == kind.title for kind in KINDS_OF_CARDS)


@pytest.mark.parametrize(
    "given",
    [
        {"isolate": "Pull the plug.", "prove": "Meter across the pins."},
        {"fed-by": ["mains"]},
        {"fed-by": ["mains", "battery"], "release": "bleed", "bleed": "5 min"},
        {"release": "bleed"},
        {"release": "action"},
        {"release": "action", "release-from": "outside"},
        {},
    ],
)
def test_pages_and_cards_say_the_same_of_a_source(given: dict[str, object]):
    source = EnergySource.model_validate({"kind": "spring", "word": "warning", **given})
    row = EnergyRow("x", source)
    assert (isolate_html(source), release_html(source), prove_html(source)) == (
        row.isolate,
        row.release,
        row.prove,
    )


def test_a_missing_key_or_value_is_a_fault():
    with pytest.raises(KeyError):
        words.word("no.such")
    with pytest.raises(KeyError):
        words.word("head.step", digits="4.2")


def test_a_language_without_words_is_refused(tmp_path: Path, caplog):
    from mkdocs.exceptions import Abort

    small_library(tmp_path)
    (tmp_path / "mkdocs.yml").write_text(
        MKDOCS.replace("{name: material}", "{name: material, language: fi}"), encoding="utf-8"
    )
    with pytest.raises(Abort):
        build_site(tmp_path, tmp_path / "site")
    assert "`theme: language: fi` has no words; there are: de, en" in caplog.text


class Said(HTMLParser):
    """The words of a page that stand in the language `of`, attributes that are read out included."""

    VOID = frozenset({"br", "hr", "img", "input", "meta", "link", "path"})

    def __init__(self, html: str, of: str) -> None:
        super().__init__()
        self.of, self.stack, self.found = of, [("", "")], []
        self.feed(html)

    def handle_starttag(self, tag, attrs):
        given = dict(attrs)
        language = given.get("lang") or self.stack[-1][1]
        if language == self.of:
            self.found += [given[k] for k in ("title", "aria-label", "placeholder") if given.get(k)]
        if tag not in self.VOID:
            self.stack.append((tag, language))

    def handle_endtag(self, tag):
        while len(self.stack) > 1 and self.stack.pop()[0] != tag:
            pass

    def handle_data(self, data):
        if self.stack[-1][1] == self.of and self.stack[-1][0] not in ("script", "style", "code", "title"):
            self.found.append(data)


@pytest.fixture(scope="module")
def german(tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp("german")
    config = (ROOT / "mkdocs.yml").read_text(encoding="utf-8")
    config = config.replace("name: material", "name: material\n  language: de").replace(
        "- kilter:\n", "- kilter:\n      written-in: en\n"
    )
    config = config.replace("docs_dir: procedures", f"docs_dir: {ROOT / 'procedures'}")
    (folder / "mkdocs.yml").write_text(config, encoding="utf-8")
    try:
        return build_site(folder, folder / "site")
    finally:
        words.use()


KINDS = ["lft-120.html", "lft-010.html", "str-130.html", "wcb-210.html", "equipment-egret-2.html", "by-equipment.html",
         "by-symptom.html", "by-number.html", "search.html", "404.html", "withheld.html", "index.html"]  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
def test_no_english_of_the_interface_is_left_on_a_german_page(german: Path, kind: str):
    page = (german / kind).read_text(encoding="utf-8")
    assert '<html lang="de" dir="ltr">' in page or 'lang="de"' in page[:300]
    english = {w for key, said in words.read("en").items() for w in re.findall(r"[a-z]{4,}", said.lower())}
    english -= {
        w for said in words.read("de").values() for w in re.findall(r"[a-z]{4,}", said.lower())
    } | SAME
    said = " ".join(Said(page, "de").found)
    left = [w for w in re.findall(r"[A-Za-zÄÖÜäöüß]{4,}", said) if w.lower() in english]
    assert left == []


def test_words_of_authors_stay_as_written_and_say_their_language(german: Path):
    page = (german / "lft-120.html").read_text(encoding="utf-8")
    assert '<h1 lang="en">Find why the pack is not charged</h1>' in page
    assert '<p class="word" lang="de">' in page and "GEFAHR" in page
    english = " ".join(Said(page, "en").found)
    assert "Roll the lift off the dock." in english


def test_a_page_in_one_language_says_it_once(tmp_path: Path):
    small_library(tmp_path)
    page = (build_site(tmp_path, tmp_path / "site") / "trl-110.html").read_text(encoding="utf-8")
    assert page.count("lang=") == 1
