"""The table of states: what it says of a small procedure, as text and as JSON, and when it can't be made."""

from __future__ import annotations

import json
import random
from pathlib import Path

import jsonschema
import pytest
from tests.publish.site_frame import ROOT, guide_example, small_library

from kilter.cli import main
from kilter.publish.schema import schemas
from kilter.publish.states.data import States, Stop
from kilter.publish.states.table import MOST_STOPS, shortened

LFT = "procedures/lift/lft-120-not-charged.md"


@pytest.fixture
def small(tmp_path, monkeypatch) -> Path:
    small_library(tmp_path)
    monkeypatch.chdir(tmp_path)
    return tmp_path / "procedures" / "trl-110.md"


@pytest.fixture
def demo(monkeypatch):
    monkeypatch.chdir(ROOT)


def ask(capsys, *arguments: object) -> tuple[int, str, str]:
    code = main(["states", *map(str, arguments)])
    said = capsys.readouterr()
    return code, said.out, said.err


GOLDEN = """\
1.3  Prove it dead
     hands: rated instrument or release tool
     mains  isolated     held by us
     caution read: mains (DANGER)
     guards that may be off: rear cover

2 Change the switch

2.1  Change the switch
     hands: hands inside
     mains  proved zero  held by us  needs proved zero
     caution read: mains (DANGER)
     guards that may be off: rear cover

2.2  Close the back
     hands: opening guards
     mains  proved zero  held by us  needs isolated
     caution read: mains (DANGER)
     guards that may be off: rear cover
"""


def test_the_text_of_the_guides_procedure(small: Path, capsys):
    code, out, err = ask(capsys, "procedures/trl-110.md")
    assert (code, err) == (0, "")
    assert out.startswith("TRL-110 rev. A: Replace the door switch\nBlanket trolley Larch 1, 10 steps\n")
    assert GOLDEN in out
    assert max(map(len, out.splitlines())) <= 100
    assert "\x1b[" not in out


def test_a_failed_answer_is_named_where_one_comes_from_it(small: Path, capsys):
    code, out, _ = ask(capsys, "procedures/trl-110.md", "stop-and-tag")
    assert code == 0
    assert "     step 1.3 -> *More than 1 V* (failed)\n" in out
    assert "     step 3.3 -> *Cold, or it heats with the door open* (failed)\n" in out


def test_where_ways_differ_best_and_worst_are_said_and_how_the_worst_comes_about(small: Path, capsys):
    """A first look that leads past the make-safe to the covers: the plug may be in, or out and proved."""
    text = guide_example("procedure")
    look = "### Look first\n:hands: controls - the cover is on, nobody reaches in\n\nLook.\n\n- Dark: [Lock out the mains](#lock-out-the-mains)\n- Lit: [Stop and tag](#stop-and-tag)\n\n"
    text = text.replace("### Lock out the mains", look + "### Lock out the mains")
    text = text.replace(" {not-zero}", "").replace("{read}`L to N: ≤ 1 V`", "one volt or less")
    small.write_text(text, encoding="utf-8")
    _, out, _ = ask(capsys, small, "stop-and-tag")
    assert "     mains  live  not held\n         varies: proved zero .. live\n" in out
    worst = out.split("A way that leaves mains live, its telling steps:\n")[1].split("\n\n")[0]
    assert worst == "     1.1 Look first -> *Lit* ->\n     4.1 Stop and tag"


def test_the_way_in_of_one_step_names_steps_and_answers(demo, capsys):
    code, out, _ = ask(capsys, LFT, "2.2")
    assert code == 0
    way = out.split("A shortest way in")[1]
    assert "10 steps:" in way
    assert "1.1 Watch the dock lamp -> *Green all the time* ->\n" in way
    assert (
        "A.5 Prove it dead -> *Both 1 V or less, boom firm, pedal loose* ->\n     2.2 Open mast and base"
        in way
    )
    assert "1.2" not in out, "one step was asked for"


@pytest.mark.parametrize(
    "word", ["A.5", "a.5", "prove-it-dead", "#prove-it-dead", "a.prove-it-dead", "Prove it dead"]
)
def test_a_step_is_named_by_number_slug_or_title(demo, capsys, word: str):
    code, out, _ = ask(capsys, LFT, word)
    assert code == 0
    assert "\nA.5  Prove it dead\n" in out


def test_an_exemption_stands_with_what_it_spares_and_its_reason(demo, capsys):
    _, out, _ = ask(capsys, LFT, "1.4")
    assert "would need proved zero; explained: the lift stands two metres from the dock" in out
    assert "would need proved zero; explained: the output shows only under power" in out
    assert "caution read: dock supply (DANGER)" in out


def test_json_is_what_its_schema_says_and_comes_back_the_same(demo, capsys):
    code, out, _ = ask(capsys, LFT, "--format", "json")
    data = json.loads(out)
    assert (code, data["version"], data["errors"], data["proved"]) == (0, "1", 0, True)
    jsonschema.Draft202012Validator(json.loads(schemas()["states.schema.json"])).validate(data)
    again = States.model_validate(data)
    assert again.model_dump(mode="json", by_alias=True) == data
    step = next(s for stage in data["stages"] for s in stage["steps"] if s["number"] == "2.2")
    assert step["key"] == "open-mast-and-base"
    assert {s["source"]: (s["worst"], s["held"], s["needs"]) for s in step["sources"]} == {
        "dock supply": ("proved zero", True, "isolated"),
        "battery": ("proved zero", True, "isolated"),
        "boom": ("proved zero", True, "isolated"),
        "spreader spring": ("proved zero", False, "released"),
    }
    assert [link for link in data["links"] if link["failed"] and link["to"] == "A.6"]


def test_json_of_one_step_holds_that_step_alone(demo, capsys):
    data = json.loads(ask(capsys, LFT, "2.2", "--format", "json")[1])
    assert [s["number"] for stage in data["stages"] for s in stage["steps"]] == ["2.2"]
    assert len(data["stages"][0]["steps"][0]["way"]) == 10
    assert all("2.2" in (link["start"], link["to"]) for link in data["links"])


def test_values_without_an_origin_are_listed(small: Path, capsys):
    text = guide_example("procedure").replace(":origin: maker's manual p. 9\n", "")
    small.write_text(text, encoding="utf-8")
    code, out, _ = ask(capsys, small)
    assert code == 0, "a missing origin is a warning"
    assert out.endswith(
        "Values that do not say where they come from\n     2.1 Change the switch: torque 0.8 ± 0.1 N·m\n"
    )


def test_a_file_with_errors_says_so_first_and_still_tells(small: Path, capsys):
    text = (
        guide_example("procedure")
        .replace(" {not-zero}", "")
        .replace("{isolates}`mains`. Hang", "the plug. Hang")
    )
    small.write_text(text.replace("{proves}`mains`", "proved"), encoding="utf-8")
    code, out, _ = ask(capsys, small)
    assert code == 1
    assert out.startswith("This file has ")
    assert "it is not accepted" in out.splitlines()[0]
    block = out.split("\n2.1  Change the switch\n")[1].split("\n\n")[0]
    assert "mains  isolated" in block
    assert "NOT MET: mains: inside-before-proved" in block
    assert "Accepted means" not in out


def test_a_caution_that_nobody_read_is_loud(small: Path, capsys):
    text = guide_example("procedure")
    start, end = text.index(":::{danger}"), text.index("## Make safe")
    small.write_text(text[:start] + text[end:], encoding="utf-8")
    code, out, _ = ask(capsys, small, "2.1")
    assert code == 1
    assert "NO CAUTION READ: mains (DANGER)" in out


@pytest.mark.parametrize(
    "content", ["", "---\nkind: [\n---\n", guide_example("procedure").replace("larch-1", "no-such")]
)
def test_where_nothing_is_known_the_errors_are_told(small: Path, capsys, content: str):
    small.write_text(content, encoding="utf-8")
    for form in ("text", "json", "svg", "html"):
        code, out, err = ask(capsys, small, "--format", form)
        assert (code, out) == (1, "")
        assert "error: " in err
        assert "nothing is known of its states" in err


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["procedures/profile.md"], "states belong to procedures"),
        (["procedures/nowhere.md"], "no such file"),
        (["procedures"], "name one Markdown file"),
        (["procedures/trl-110.md", "2.9"], "no step is called `2.9`; did you mean `2."),
        (["procedures/trl-110.md", "stop-and-tug"], "did you mean `stop-and-tag`?"),
        (["procedures/trl-110.md", "2.1", "--format", "svg"], "a picture shows every step"),
    ],
)
def test_what_could_not_run_is_two(small: Path, capsys, arguments: list[str], said: str):
    code, out, err = ask(capsys, *arguments)
    assert (code, out) == (2, "")
    assert err.startswith("kilter: ")
    assert said in err


def test_an_unreached_step_is_told_as_such(small: Path, capsys):
    text = guide_example("procedure").replace(
        "## Stop here", "## Stop here\n\n### Look at nothing\n:go-to: #stop-and-tag\n\nLook."
    )
    small.write_text(text, encoding="utf-8")
    code, out, _ = ask(capsys, small)
    assert code == 1
    assert "Look at nothing\n     no way leads here\n" in out


def test_every_demo_document_has_its_table(demo, capsys):
    files = [
        f
        for f in sorted(Path("procedures").rglob("*.md"))
        if f.name not in ("profile.md", "front.md") and f.parent.name != "training"
    ]
    assert len(files) >= 5
    for file in files:
        code, out, _ = ask(capsys, file)
        assert code == 0, file
        assert "no way leads here" not in out
        assert "NOT MET" not in out


def test_a_very_long_way_keeps_its_ends_and_says_what_is_left_out():
    way = tuple(Stop(number=str(n), title=f"Step {n}", answer="yes") for n in range(100))
    short = shortened(way)
    assert len(short) == MOST_STOPS + 1
    assert (short[0], short[-1]) == (way[0], way[-1])
    assert short[MOST_STOPS // 2].title == "(60 more answers and stages)"
    assert shortened(way[:MOST_STOPS]) == way[:MOST_STOPS]


@pytest.mark.parametrize("seed", range(25))
def test_a_mangled_file_gives_a_table_or_a_clear_error(small: Path, capsys, seed: int):
    """Rows dropped, doubled, swapped and cut: whatever is left, never a fault of the tool."""
    rng = random.Random(seed)
    rows = guide_example("procedure").splitlines(keepends=True)
    for _ in range(rng.randint(1, 4)):
        at, other = rng.randrange(len(rows)), rng.randrange(len(rows))
        match rng.randrange(4):
            case 0:
                del rows[at]
            case 1:
                rows.insert(at, rows[other])
            case 2:
                rows[at], rows[other] = rows[other], rows[at]
            case _:
                rows[at] = rows[at][: len(rows[at]) // 2] + "\n"
    small.write_text("".join(rows), encoding="utf-8")
    for form in ("text", "json", "html"):
        code, out, err = ask(capsys, small, "--format", form)
        assert code in (0, 1)
        assert bool(out) != ("nothing is known of its states" in err)
