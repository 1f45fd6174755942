"""Help at calculation blocks, screws and values; `|` is the cursor."""

import pytest
from tests.check.frame import FRONT, PROFILE, PROFILE_BODY

from kilter.assist import completions, conversions, hover
from kilter.check.calculated import fields_of
from kilter.check.workspace import Workspace
from kilter.compute.calculation import NAMES
from kilter.compute.quantity import parse_quantity

STEP = "# Set it\n\n## Work\n\n### Set the lever\n"


@pytest.fixture
def workspace(tmp_path):
    root = tmp_path / "procedures"
    root.mkdir()
    (root / "rig.md").write_text(f"---\n{PROFILE}---\n{PROFILE_BODY}", encoding="utf-8")
    return Workspace(root, root)


def placed(workspace, text):
    text = f"---\n{FRONT}---\n{STEP}{text}"
    at = text.index("|")
    workspace.write(workspace.root / "a.md", text.replace("|", "", 1))
    return text.count("\n", 0, at) + 1, at - (text.rfind("\n", 0, at) + 1) + 1


def labels(workspace, text):
    found = completions(workspace, "a.md", *placed(workspace, text))
    return [offer.label for offer in found]


def test_every_calculation_has_a_block(workspace):
    offered = labels(workspace, "\n:::{|\n")
    assert {f":::{{calc}} {n}" for n in NAMES if n != "stack"} | {":::{stack}"} <= set(offered)


def test_the_name_of_a_calculation_is_offered(workspace):
    assert labels(workspace, "\n:::{calc} |\n:::\n") == [n for n in NAMES if n != "stack"]


def test_fields_are_those_that_are_not_given_yet(workspace):
    offered = labels(workspace, "\n:::{calc} torque\n:fastener: M8 8.8\n:|\n:::\n")
    assert offered == [f":{i.name}:" for i in fields_of("torque") if i.name != "fastener"]
    assert labels(workspace, "\n:::{stack}\n:plus: a: 1 ± 0.1 mm\n:|\n:::\n") == [
        ":plus:",
        ":minus:",
        ":limit:",
    ]
    assert labels(workspace, "\n:::{calc} weight\n:|\n:::\n") == []


def test_words_that_an_input_takes(workspace):
    assert "lead-acid AGM" in labels(workspace, "\n:::{calc} battery\n:chemistry: |\n:::\n")
    assert "lubricated" in labels(workspace, "\n:::{calc} torque\n:friction: |\n:::\n")
    assert "lubricated" in labels(workspace, ":friction: |\n\nTighten it.\n")


def test_hover_shows_what_a_block_comes_to(workspace):
    place = placed(
        workspace,
        "\n:::{calc} bl|eed\n:capacitance: 470 µF\n:resistance: 10 kΩ\n:from: 400 V\n:to: 50 V\n:::\n",
    )
    text = hover(workspace, "a.md", *place).markdown
    # 470 µF over 10 kΩ from 400 to 50 V: τ 4.7 s, 9.773 s, worked out from the textbook formula; shown rounded up
    assert "- wait at least: **9.8 s**" in text
    assert "time constant: 4.70 s" in text


def test_hover_shows_what_is_missing(workspace):
    place = placed(workspace, "\n:::{calc} bl|eed\n:capacitance: 470 µF\n:::\n")
    assert "`resistance` is missing" in hover(workspace, "a.md", *place).markdown


def test_a_value_is_offered_in_the_other_system(workspace):
    line, _ = placed(
        workspace,
        "\nTighten it to {torque}`|22 ± 2 N·m`. Wait {wait}`5 min`. Set it to {set}`7.9 ± 0.1 mm`.\n",
    )
    first, second = conversions(workspace, "a.md", line, line)
    source = workspace.library.sources["a.md"]
    for fix, written in ((first, "22 ± 2 N·m"), (second, "7.9 ± 0.1 mm")):
        (edit,) = fix.edits
        assert source.row(line - 1)[edit.span.column - 1 : edit.span.end_column - 1] == written
        shown, was = parse_quantity(edit.text), parse_quantity(written)
        assert shown.within(was), "nothing outside the true limits"
        assert shown.unit.symbol in ("lbf·ft", "in")
        assert fix.title == f"show as {edit.text}"
        assert not fix.alone
    assert conversions(workspace, "a.md", line + 1, line + 5) == []


def test_a_reading_keeps_its_name_and_an_input_is_offered_too(workspace):
    line, _ = placed(
        workspace,
        "\nRead {read}`as found, lid: |7.6–8.2 mm`.\n\n:::{calc} torque\n:torque: 22 ± 2 N·m\n:::\n",
    )
    (reading,) = conversions(workspace, "a.md", line, line)
    (edit,) = reading.edits
    assert workspace.library.sources["a.md"].row(line - 1)[edit.span.column - 1 :].startswith("7.6–8.2 mm")
    (given,) = conversions(workspace, "a.md", line + 3, line + 3)
    assert given.title.endswith("lbf·ft")
