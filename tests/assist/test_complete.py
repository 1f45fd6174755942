"""What is offered where, on sound and on broken text; `|` is the cursor."""

import shutil
from pathlib import Path

import pytest

from kilter.assist.complete import completions
from kilter.assist.frontoffers import KEYS
from kilter.assist.memory import remember
from kilter.assist.navigate import text_in
from kilter.assist.words import FIELDS, MARKS
from kilter.check.workspace import Workspace
from kilter.model.document import ROLES
from kilter.model.front import EnergySource
from kilter.read.fields import STEP_FIELDS
from kilter.read.front import MODELS, field_names

DEMO = Path(__file__).parents[2] / "procedures"
LIFT, PROFILE = "lift/lft-120-not-charged.md", "lift/profile.md"


@pytest.fixture(scope="module")
def shared(tmp_path_factory):
    root = tmp_path_factory.mktemp("complete") / "procedures"
    shutil.copytree(DEMO, root)
    return Workspace(root, root.parent)


@pytest.fixture
def library(shared):
    yield shared
    for file in [*shared.root.rglob("*.md"), shared.root / "lift" / "new.md"]:
        shared.let_go(file)


def offers(workspace, name, text):
    at = text.index("|")
    text = text.replace("|", "", 1)
    file = workspace.root / name
    workspace.write(file, text)
    path = workspace.shown(file)
    line, column = text.count("\n", 0, at) + 1, at - (text.rfind("\n", 0, at) + 1) + 1
    found = completions(workspace, path, line, column)
    for offer in found:  # what an editor needs: one row, from the typed text to at least the cursor
        assert offer.replace.line == offer.replace.end_line == line
        assert offer.replace.column <= column <= offer.replace.end_column
    return found


def labels(workspace, text, name=LIFT, old=None):
    """Labels offered after `old` in a file became `text`; without `old`, after the text is put at the end."""
    before = workspace.library.sources[workspace.shown(workspace.root / name)].text
    if old is not None:
        assert old in before
        return [o.label for o in offers(workspace, name, before.replace(old, text, 1))]
    return [o.label for o in offers(workspace, name, before + "\n### New step\n" + text)]


SOURCES = {"dock supply", "battery", "boom", "spreader spring"}


@pytest.mark.parametrize("mark", ["isolates", "releases", "proves", "restores", "runs-on", "loads"])
def test_sources_are_offered_in_every_mark_that_names_them(library, mark):
    assert set(labels(library, f"\nDo it: {{{mark}}}`ba|")) == SOURCES


def test_sources_that_fit_the_mark_come_first(library):
    assert labels(library, "\nDo it: {releases}`|`.")[0] == "spreader spring"
    assert labels(library, "\nDo it: {isolates}`|`.")[-1] == "spreader spring"


def test_a_name_that_stands_in_the_list_is_not_offered_again(library):
    assert set(labels(library, "\nDo it: {proves}`battery, |`")) == SOURCES - {"battery"}


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("\nOff with it: {removes}`|", ["mast cover", "base cover"]),
        ("\nOn with it: {refits}`ma|`", ["mast cover", "base cover"]),
        ("\nTry it: {tests}`|`", ["boom travel", "charging"]),
        ("\nTry it: {all-clear}`|`", ["people and tools"]),
        (":zone: |", ["base"]),
        (":do: |", ["make-safe", "give-power-back", "test-before-service"]),
        (":exit: |", ["returned to service", "left locked out, tagged", "left as found"]),
        (":hands: |", ["away", "controls", "open", "probe", "inside", "live"]),
        (":hands: live dock supply, |", ["battery", "boom", "spreader spring"]),
        (":clear-of: |", ["dock supply", "battery", "boom", "spreader spring"]),
        ("\n- It moves: [Stop](#stop-and-tag) {|", ["{not-zero}", "{not-ok}"]),
        (
            "\n- It moves: [Stop](#stop-and-tag) {not-zero |}",
            ["dock supply", "battery", "boom", "spreader spring"],
        ),
        ("\n:::{warning} battery, |", ["dock supply", "boom", "spreader spring"]),
        ("\n## Part two {|", ["{shared}"]),
    ],
)
def test_names_of_the_profile_are_offered_where_they_are_written(library, text, wanted):
    assert labels(library, text) == wanted


def test_a_switch_is_offered_from_its_profile(library):
    name = "warming-cabinet/wcb-210-interlock-and-limit.md"
    assert labels(library, ":switch: |", name) == ["door switch"]


def test_tools_are_the_declared_ones_first_then_those_of_the_library(library):
    found = labels(library, "\nTake the {tool}`|`.")
    assert found[:3] == ["voltmeter", "tension key", "insulation tester"] and "reference thermometer" in found
    assert labels(library, "\nFit a {part}`|`.")[:2] == ["fuse F2", "pad block"]


def test_items_come_with_their_figure_and_after_a_comma_alone(library):
    assert labels(library, "\nSee {item}`|`.")[0] == "fig-path 1"
    assert labels(library, "\nSee {item}`fig-path 1, |`.")[:2] == ["1", "2"]


def test_links_lead_to_steps_numbers_and_back(library):
    found = labels(library, "\n- Fine: [Go on](#|)")
    assert (
        "#measure-the-dock" in found
        and "#new-step" in found
        and "LFT-130" in found
        and "LFT-120" not in found
    )
    assert "#back" not in found
    assert "#back" in labels(library, "\n- Fine: [Go on](#|)", PROFILE)
    assert "#measure-the-dock" in labels(library, ":go-to: #|")
    assert set(labels(library, "\n:::{|")) >= {":::{danger}", ":::{figure}", "warning panel, battery"}


def test_marks_after_a_brace_and_fields_after_a_colon(library):
    assert labels(library, "\nTurn it {|") == list(ROLES)
    assert labels(library, ":|") == [f":{n}:" for n in STEP_FIELDS]
    assert ":do:" not in labels(library, "\n## Part\n:|")
    assert labels(library, "\nDo it.\n\n:|") == [":exit:", ":go-to:"]
    assert labels(library, "\n:::{figure} a.png\n:1: 2,3 Pin\n:|\n:::") == [
        ":2:",
        *(f":{n}:" for n in ("id", "alt", "looked", "crop", "cover", "detail", "motion", "scale", "after")),
    ]


def test_a_mark_brings_its_brace_and_back_quote(library):
    before = library.library.sources["procedures/" + LIFT].text
    found = offers(library, LIFT, before + "\n### New\n\nPull {iso|}")
    offer = next(o for o in found if o.label == "isolates")
    assert offer.insert == "{isolates}`"
    assert text_in(library.library.sources["procedures/" + LIFT], offer.replace) == "{iso}"


@pytest.mark.parametrize(
    ("text", "first", "never"),
    [
        ("\nTighten to {torque}`22 ± 2 |`", "N·m", "mm"),
        ("\nTighten to {torque}`22 ± 2 N|`", "N·m", "mm"),
        ("\nWait {wait}`5 |`", "s", "V"),
        ("\nMeasure {read}`drop: ≤ 0.3|`", "mm", "nothing"),
    ],
)
def test_units_follow_a_number(library, text, first, never):
    found = labels(library, text)
    assert found[0] == first and never not in found


def test_no_unit_without_a_number(library):
    assert labels(library, "\nMeasure {read}`drop: |`") == []


@pytest.mark.parametrize(
    "text",
    [
        "\nPull the plug| and lock it.",
        "\nPull the plug |",
        "\nIt is 5: |",
        "\n### Take the |",
        "\n# A {|",
        "\nSee [the dock|](#x)",
        "\n```\n{|\n```",
        "\n```\n:|\n```",
        ":clear-of: boom - the |",
        ":hands: controls - the plug |",
        "\nA real brace \\{|",
        "\n- a list item|",
        "\n:::{warning} boom\n**Crushing|.**\n:::",
    ],
)
def test_nothing_is_offered_in_prose(library, text):
    assert labels(library, text) == []


FRONT = "---\nkind: procedure\ntask: replacement\n"


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("---\nkind: |\n---\n", ["equipment", "procedure", "pre-use-check", "training"]),
        ("---\n|\n---\n", ["kind"]),
        (
            "---\nkind: procedure\ntask: re|\n",
            ["fault-isolation", "adjustment", "replacement", "inspection", "test"],
        ),
        (FRONT + "equipment: |\n---\n", ["egret-2", "roller-5", "hearth-60"]),
        (
            "---\nkind: equipment\nsources:\n  a: {kind: mains, word: |\n---\n",
            ["danger", "warning", "caution"],
        ),
        ("---\nkind: equipment\nsources:\n  a:\n    release: |\n---\n", ["action", "bleed"]),
        (FRONT + "parts:\n  - fuse: {new: |}\n---\n", ["each time"]),
        (FRONT + "# a comment |\n---\n", []),
        (FRONT + "title: Wo|\n---\n", []),
    ],
)
def test_front_matter_values_by_key(library, text, wanted):
    found = [o.label for o in offers(library, "lift/new.md", text)]
    if "equipment: |" in text:
        assert (
            sorted(found) == sorted(d.profile.id for d in library.library.profiles.values())
            and "egret-2" in found
        )
    else:
        assert found == wanted


def test_front_matter_keys_by_kind_without_those_that_stand_there(library):
    found = [o.label for o in offers(library, "lift/new.md", FRONT + "|\nnumber: X-1\n---\n")]
    assert found == [n for n in field_names(MODELS["procedure"]) if n not in ("kind", "task", "number")]
    found = [
        o.label for o in offers(library, "lift/new.md", "---\nkind: equipment\nsources:\n  a:\n    |\n---\n")
    ]
    assert found == field_names(EnergySource)


def test_energy_kinds_that_are_not_yet_in_the_list(library):
    found = labels(library, "none: [capacitor, hydraulic, |", PROFILE, "none: [capacitor, hydraulic, ")
    assert "vacuum" in found and "capacitor" not in found


def test_sources_in_feeds_and_zones_of_a_broken_profile(library):
    remember(library)
    assert set(labels(library, "charged-by: [|", PROFILE, "charged-by: [dock supply]")) == SOURCES - {
        "battery"
    }
    assert set(labels(library, "base: [|]", PROFILE, "base: [")) == SOURCES


def test_names_stay_while_the_profile_or_the_own_front_matter_is_broken(library):
    remember(library)
    profile = library.root / PROFILE
    library.write(profile, profile.read_text().replace("kind: equipment", "kind: equip ment: ["))
    assert not any(d.front.id == "egret-2" for d in library.library.documents.values() if d.is_profile)
    assert set(labels(library, "\nDo it: {isolates}`|`.")) == SOURCES
    broken = (library.root / LIFT).read_text().replace(
        "title: Find", "title: [Find"
    ) + "\n### New\n\nLock: {isolates}`|"
    assert {o.label for o in offers(library, LIFT, broken)} == SOURCES


def test_blocks_in_an_empty_row_hold_what_is_known_and_blanks_for_the_rest(library):
    before = library.library.sources["procedures/" + LIFT].text
    found = {
        o.label: o
        for o in offers(library, LIFT, before.replace("### Clean the pads", "|\n\n### Clean the pads"))
    }
    proof = found["proof with both answers"].insert
    assert "{proves}`dock supply, battery, boom, spreader spring`" in proof and "[fill in:" in proof
    assert "[Carry on](#clean-the-pads)" in proof and "(#stop-and-tag) {not-zero}" in proof
    panel = found["danger panel, dock supply"].insert
    assert panel.startswith(":::{danger} dock supply\n**[fill in:") and panel.endswith("\n:::")


@pytest.mark.parametrize(
    "label", ["proof with both answers", "warning panel, battery", "figure with items", "step"]
)
def test_a_block_as_inserted_is_read_and_only_its_blanks_and_gaps_are_errors(library, label):
    before = library.library.sources["procedures/" + LIFT].text
    text = before.replace("### Clean the pads", "|\n\n### Clean the pads")
    offer = next(o for o in offers(library, LIFT, text) if o.label == label)
    library.write(library.root / LIFT, text.replace("|", offer.insert, 1))
    rules = {d.rule for d in library.findings("procedures/" + LIFT)}
    assert "blank-left" in rules
    assert not rules & {"stray-brace", "unclosed-directive", "unknown-field", "answer-form", "unknown-source"}


def test_every_mark_field_and_key_has_its_few_words():
    assert set(MARKS) == set(ROLES)
    assert set(STEP_FIELDS) <= set(FIELDS)
    assert {k for m in MODELS.values() for k in field_names(m)} <= set(KEYS)
    assert set(field_names(EnergySource)) <= set(KEYS)


def test_no_place_of_the_demo_library_makes_it_fail(library):
    for path, source in list(library.library.sources.items()):
        for row, text in enumerate(source.lines):
            for column in (1, len(text) // 2 + 1, len(text) + 1):
                completions(library, path, row + 1, column)
        assert completions(library, path, len(source.lines) + 9, 99) == []
    assert completions(library, "nowhere.md", 1, 1) == []
