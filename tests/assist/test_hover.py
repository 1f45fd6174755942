"""What is told of the thing under the pointer, and where its name leads; `|` is the pointer."""

import shutil
from pathlib import Path

import pytest

from kilter.assist import definition, hover, outline, references
from kilter.assist.units import other_system
from kilter.check.rule import rule_named
from kilter.check.workspace import Workspace
from kilter.compute.quantity import parse_quantity

DEMO = Path(__file__).parents[2] / "procedures"
LIFT, PROFILE = "procedures/lift/lft-120-not-charged.md", "procedures/lift/profile.md"


@pytest.fixture(scope="module")
def library(tmp_path_factory):
    root = tmp_path_factory.mktemp("hover") / "procedures"
    shutil.copytree(DEMO, root)
    return Workspace(root, root.parent)


def place(workspace, path, words):
    """The place of `|` in the first such words of a file."""
    before, after = words.split("|")
    source = workspace.library.sources[path]
    at = source.text.index(before + after) + len(before)
    span = source.span(at, at)
    return path, span.line, span.column


def told(workspace, path, words):
    found = hover(workspace, *place(workspace, path, words))
    return found.markdown if found is not None else None


def test_a_step_tells_what_must_be_true(library):
    text = told(library, LIFT, "### Test the |lead to the frame")
    assert text.startswith("**2.3 Test the lead to the frame**")
    analysis = library.context(LIFT).analysis
    key = "test-the-lead-to-the-frame"
    for name, word in analysis.strip(key):
        assert f"- {name}: **{word}**" in text
    assert "battery: **proved zero**, held by us" in text
    assert "Guards that may be off: mast cover, base cover." in text
    assert "Cautions in force: dock supply, battery, boom, spreader spring." in text
    assert "hands inside the guards" in text


def test_a_caution_that_is_missing_is_named(library):
    file = library.root / "lift" / "lft-130-charge-lead.md"
    library.write(file, file.read_text().replace(":::{warning} battery\n", ":::{warning}\n"))
    text = told(library, "procedures/lift/lft-130-charge-lead.md", "### Pull the |old lead out")
    library.let_go(file)
    assert "No caution read on every way: battery." in text and "Cautions in force: dock supply, boom" in text


def test_a_shared_step_of_the_profile_tells_each_procedure_that_comes_through(library):
    text = told(library, PROFILE, "### Prove |it dead")
    assert "- LFT-120: dock supply isolated" in text and "- LFT-130: " in text


def test_a_source_tells_its_profile_entry(library):
    for words in ("{isolates}`b|oom`", ":::{warning} battery, bo|om, spreader"):
        text = told(library, LIFT, words)
        assert text.startswith("**boom**\n\ngravity, warning, can be locked")
        assert "Isolate: Boom down on the strut stand, stand pin in." in text
        assert "Before it is put back, live: battery" in text
    assert "Release: action, from outside" in told(library, PROFILE, "{releases}`spr|eader")


@pytest.mark.parametrize(
    ("words", "wanted"),
    [
        ("[Measure the dock](#measure|-the-dock)", "Step 1.4: **Measure the dock**"),
        (":go-to: #close|-the-covers", "**Close the covers**"),
        (":do: make|-safe", "1. Park the boom"),
        ("[Replace the charge lead](LFT|-130)", "**Replace the charge lead**"),
        (":zone: ba|se", "dock supply, battery, boom, spreader spring can be reached"),
        ("{item}`fig-pa|th 7`", "Item 7 of `fig-path`: **Jacks J1 to J3**"),
        ("{tool}`volt|meter`", "range: 0–60 V"),
        ("equipment: egr|et-2", "Mobile patient lift"),
        ("{removes}`mast| cover`", "Guard **mast cover**"),
    ],
)
def test_names_tell_what_they_stand_for(library, words, wanted):
    assert wanted in told(library, LIFT, words)


def test_a_value_is_told_as_understood_and_in_the_other_system(library):
    text = told(library, LIFT, "{torque}`1.2 ±| 0.1 N·m`")
    assert (
        "Tightening torque: **1.1 to 1.3 N·m, aim for 1.2 N·m**" in text
        and "from: maker's manual p. 33" in text
    )
    # 1 lbf·in = 0.112 984 829 N·m (NIST SP 811, appendix B): 1.1, 1.3, 1.2 N·m = 9.736, 11.506, 10.621
    # rounded inward: 9.8 to 11.4
    assert "= 10.6 ± 0.8 lbf·in" in text
    assert "Reading, dock output: **27.0 to 27.6 V, aim for 27.3 V**" in told(
        library, LIFT, "{read}`dock| output"
    )


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("≤ 7.5 mm", "≤ 0.295 in"),  # 1 in = 25.4 mm exactly: 0.29528
        ("150 ± 20 mm", "5.91 ± 0.78 in"),  # 5.1181 to 6.6929
        ("−80 ± 5 kPa", "−11.6 ± 0.7 psi"),  # 1 psi = 6.894 757 kPa: -12.328 to -10.878
        ("45.0–48.0 °C", "113–118 °F"),  # °F = 1.8 °C + 32: 113.0 to 118.4
        ("≥ 24.0 V", ""),
    ],
)
def test_the_other_system_never_says_more_than_the_value(text, wanted):
    assert other_system(parse_quantity(text)) == wanted


def test_a_finding_brings_the_first_words_of_its_rule(library):
    file = library.root / "lift" / "lft-130-charge-lead.md"
    library.write(file, file.read_text().replace("(#dress-the-bar)", "(#dress-the-barr)"))
    text = told(library, "procedures/lift/lft-130-charge-lead.md", "(#dress|-the-barr)")
    library.let_go(file)
    assert "**K207 unknown-step**" in text and rule_named("unknown-step").page.split("\n")[2][:60] in text


@pytest.mark.parametrize("words", ["Three causes| are known", "time: 6|0", "Roll the lift off| the dock."])
def test_plain_words_tell_nothing(library, words):
    assert told(library, LIFT, words) is None


@pytest.mark.parametrize(
    ("words", "path", "row"),
    [
        ("[Measure the dock](#measure|-the-dock)", LIFT, "### Measure the dock"),
        ("{isolates}`b|oom`", PROFILE, "  boom:"),
        ("{removes}`mast| cover`", PROFILE, "guards: [mast cover, base cover]"),
        (":zone: ba|se", PROFILE, "  base: [dock supply, battery, boom, spreader spring]"),
        (":do: make|-safe", PROFILE, "## Make safe {shared}"),
        ("equipment: egr|et-2", PROFILE, "id: egret-2"),
        ("(LFT|-130)", "procedures/lift/lft-130-charge-lead.md", "# Replace the charge lead"),
        ("{item}`fig-pa|th 7`", LIFT, ":7: 818,296 Jacks J1 to J3"),
        (
            "{tool}`volt|meter`",
            LIFT,
            "  - voltmeter: {range: 0–60 V, accuracy: 0.5 %, calibration: 12 months}",
        ),
        (":hands: live dock| supply", PROFILE, "  dock supply:"),
    ],
)
def test_a_name_leads_to_where_the_thing_stands(library, words, path, row):
    (span,) = definition(library, *place(library, LIFT, words))
    assert span.path == path and library.library.sources[path].row(span.line - 1) == row


def test_references_of_a_step_are_its_links_and_its_heading(library):
    found = references(library, *place(library, LIFT, "### Close| the covers"))
    rows = [library.library.sources[LIFT].row(s.line - 1)[:12] for s in found]
    assert rows == [":go-to: #clo", "- 0.3 Ω or l", "### Close th"]
    assert (
        len(references(library, *place(library, LIFT, "### Close| the covers"), with_definition=False)) == 2
    )


def test_the_outline_is_stages_with_their_steps(library):
    parts = outline(library.library.documents[LIFT])
    assert [p.title for p in parts] == [
        "Measure from outside",
        "Fuse side",
        "Pad side",
        "Return to service",
        "Stop here",
    ]
    assert parts[-1].parts[0].detail == "left locked out, tagged"
    assert outline(library.library.documents[PROFILE])[0].detail == "shared"
    for part in parts:
        assert all(part.span.line < s.span.line <= s.span.end_line <= part.span.end_line for s in part.parts)
