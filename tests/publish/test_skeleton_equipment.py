"""A new profile forgets no kind of energy: each is a source, or somebody said that there is none."""

import re
from datetime import date

import pytest
from tests.publish.skeleton_frame import found

from kilter.cli import main
from kilter.cli.ask import ask
from kilter.diagnostic import Severity
from kilter.model.front import ENERGY_KINDS, ProfileFront
from kilter.outcome import CouldNotRunError
from kilter.publish.skeleton import new_text
from kilter.publish.skeleton.equipment import ASK, KEYS
from kilter.publish.skeleton.words import filled
from kilter.read.document import read_bytes

DAY = date(2026, 3, 2)
GIVEN = {"id": "marl-4", "title": "Chair scale", "sources": None, "guards": (), "tests": ()}


def errors(found):
    return [f for f in found if f.severity is Severity.ERROR]


def front(text):
    document = read_bytes("m.md", text.encode()).document
    assert document is not None and isinstance(document.front, ProfileFront)
    return document.front


@pytest.mark.parametrize(
    "kinds", [None, (), *((k,) for k in ENERGY_KINDS), ("battery", "mains", "capacitor", "spring")]
)
def test_a_new_profile_has_blanks_only_and_filled_in_no_errors(tmp_path, kinds):
    text = new_text("equipment", tmp_path, id="marl-4", title="Chair scale", sources=kinds, today=DAY)
    assert {f.rule for f in errors(found(tmp_path, m=text))} == {"blank-left"}
    assert errors(found(tmp_path, m=filled(text))) == []
    assert set(front(filled(text)).sources) == set(ENERGY_KINDS if kinds is None else kinds)


def test_each_kind_has_its_question_and_its_keys():
    assert list(ASK) == list(KEYS) == list(ENERGY_KINDS)


def test_unasked_each_source_says_how_it_is_ruled_out(tmp_path):
    text = new_text("equipment", tmp_path, today=DAY)
    assert text.count("if there is none, delete these rows") == len(ENERGY_KINDS)
    assert "none: []" in text


def test_the_way_of_release_is_explained(tmp_path):
    text = new_text("equipment", tmp_path, sources=("spring", "heat"))
    assert "action if somebody lets it out" in text and "bleed if time alone lets it out" in text


def test_the_options_are_written_in(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    words = [
        "--id",
        "marl-4",
        "--title",
        "Chair scale",
        "--sources",
        "battery, mains",
        "--guards",
        "seat,rear  cover",
    ]
    assert main(["new", "equipment", "procedures/m.md", *words, "--tests", "weighing"]) == 0
    text = (tmp_path / "procedures" / "m.md").read_text(encoding="utf-8")
    made = front(filled(text))
    assert tuple(made.sources) == ("mains", "battery") and made.guards == ("seat", "rear cover")
    assert made.before_service == ("weighing",) and made.sources["battery"].charged_by == ("mains",)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--sources", "mains,batery"], "did you mean `battery`"),
        (["--id", "Marl 4"], "`Marl 4` is no id"),
        (["--number", "N-1"], "--number is not for equipment"),
    ],
)
def test_a_wrong_option_is_said_and_nothing_written(tmp_path, monkeypatch, capsys, words, says):
    monkeypatch.chdir(tmp_path)
    assert main(["new", "equipment", "procedures/m.md", *words]) == 2
    assert says in capsys.readouterr().err and not (tmp_path / "procedures").exists()


def test_an_id_that_is_taken_is_refused_with_a_free_one(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert main(["new", "equipment", "procedures/m.md", "--id", "marl-4", "--sources", "mains"]) == 0
    file = tmp_path / "procedures" / "m.md"
    file.write_text(filled(file.read_text(encoding="utf-8")), encoding="utf-8")
    assert main(["new", "equipment", "procedures/o.md", "--id", "marl-4", "--sources", "mains"]) == 2
    assert "the next free one is marl-5" in capsys.readouterr().err


def fine(id):
    return ""


def test_a_wrong_id_is_refused_where_it_is_typed(capsys):
    read, _ = answers("Marl 4", "marl-4", *["n"] * 11, "", "")
    given = ask({**GIVEN, "id": None}, lambda id: "" if id == "marl-4" else f"`{id}` is no id", read)
    assert given["id"] == "marl-4" and "`Marl 4` is no id" in capsys.readouterr().out


def answers(*words):
    left = list(words)

    def read(question):
        asked.append(question)
        if not left:
            raise EOFError
        return left.pop(0)

    asked = []
    return read, asked


def test_each_kind_is_asked_for_in_turn(capsys):
    read, asked = answers("y", "maybe", "n", *"nnnnnYnnn", "seat, rear cover", "")
    answered = ask(GIVEN, fine, read)
    assert answered["sources"] == ("mains", "spring") and answered["guards"] == ("seat", "rear cover")
    kinds = [m[1] for q in asked if (m := re.match(r"Is there (\w+)", q))]
    assert list(dict.fromkeys(kinds)) == list(ENERGY_KINDS) and kinds.count("battery") == 2
    assert "y or n" in capsys.readouterr().out


@pytest.mark.parametrize("count", [0, 5, 12])
def test_whoever_breaks_off_gets_nothing_written(count):
    read, _ = answers(*["n"] * count)
    with pytest.raises(CouldNotRunError, match="nothing was written"):
        ask(GIVEN, fine, read)


def test_an_interrupt_counts_as_breaking_off():
    def read(question):
        raise KeyboardInterrupt

    with pytest.raises(CouldNotRunError, match="nothing was written"):
        ask(GIVEN, fine, read)
