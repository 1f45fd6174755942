"""The rules about values: what they say, and where they point."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.check.asking import ask, shown

from kilter.diagnostic import Severity

ORIGIN = ":origin: shop rule\n\n"


@pytest.mark.parametrize(
    ("rule", "marked", "points_at"),
    [
        ("value-unreadable", "Set it to {set}`5 ± 0,1 mm`.", "0,1"),
        ("value-unreadable", "Set it to {set}`~ 5 mm`.", "~"),
        ("value-unreadable", "Set it to {set}` 1e400 V`.", "1e400"),
        ("value-unreadable", "Measure {read}`as found, lid: 5 ± -1 mm`.", "-1"),
        ("value-unreadable", "Tighten it to {torque}`snug`.", "snug"),
        ("unit-unknown", "Set it to {set}`5 ± 1 mpa`.", "mpa"),
        ("unit-unknown", "Set it to {set}`5 ± 1`.", "5 ± 1"),
        ("unit-unknown", "Measure {read}`lid: ≤ 5 \u041c\u03a9`.", "\u041c"),
        ("unit-unknown", "Measure {read}`rate 5 mm: ≤ 5 foo`.", "foo"),
        ("range-reversed", "Tighten it to {torque}`7–5 N·m`.", "7–5"),
        ("value-wrong-dimension", "Tighten it to {torque}`22 ± 2 mm`.", "22 ± 2 mm"),
        ("value-wrong-dimension", "Wait {wait}`22 mm`.", "22 mm"),
        ("torque-without-tolerance", "Tighten it to {torque}`22 N·m`.", "22 N·m"),
        ("torque-without-tolerance", "Tighten it to {torque}`≥ 22 N·m`.", "≥ 22 N·m"),
        ("setting-without-tolerance", "Set it to {set}`22 mm`.", "22 mm"),
        ("reading-without-limit", "Measure {read}`lid: 22 mm`.", "lid: 22 mm"),
        ("wait-without-time", "Wait {wait}`at most 5 min`.", "at most 5 min"),
        ("wait-without-time", "Wait {wait}`0 min`.", "0 min"),
        ("wait-without-time", "Wait a moment.", "Wait a moment."),
        ("origin-missing", "Tighten it to {torque}`22 ± 2 N·m`.", "{torque}`22 ± 2 N·m`"),
        ("reading-unpaired", "Measure {read}`as found, lid: ≤ 5 mm`.", "as found, lid: ≤ 5 mm"),
    ],
)
def test_says_it_at_the_right_place(rule: str, marked: str, points_at: str, tmp_path: Path) -> None:
    head = "" if rule == "origin-missing" else ORIGIN
    (found,) = ask(rule, head + marked + "\n", tmp_path)
    assert shown(found, tmp_path) == points_at
    assert found.rule == rule
    assert found.help
    assert found.message[0].islower()
    assert not found.message.endswith(".")


QUIET = """:origin: shop rule

Tighten it to {torque}`22 ± 2 N·m`, {torque}`22 N·m ± 10 %` or {torque}`20–24 N·m`. Set it to {set}`7.9 ± 0.1 mm`,
{set}`4 +0.5/−0.2 mm` or {set}`≥ 10 mm`. Measure {read}`as found, lid: 7.6–8.2 mm`. Measure
{read}`as left, lid: 7.6–8.2 mm`. Read {read}`vacuum: −75 to −85 kPa`. Wait {wait}`5 min`. Wait {wait}`5–7 min`.
Wait until it is cold.
"""


@pytest.mark.parametrize(
    "rule",
    [
        "value-unreadable", "unit-unknown", "range-reversed", "value-wrong-dimension", "torque-without-tolerance",
        "setting-without-tolerance", "reading-without-limit", "wait-without-time", "origin-missing",
        "reading-unpaired", "reading-two-limits", "switch-without-setting", "profile-value", "tool-value",
    ],
)  # fmt: skip
def test_is_quiet_on_sound_values(rule: str, tmp_path: Path) -> None:
    assert ask(rule, QUIET, tmp_path) == []


def test_a_blank_of_a_new_file_is_not_reported_twice(tmp_path: Path) -> None:
    assert ask("value-unreadable", ORIGIN + "Set it to {set}`[fill in: value]`.\n", tmp_path) == []


def test_one_origin_on_the_stage_holds_for_its_steps(tmp_path: Path) -> None:
    text = "## Change it\n:origin: maker's manual p. 3\n\n### Tighten it\n\nTighten it to {torque}`22 ± 2 N·m`.\n"
    assert ask("origin-missing", text, tmp_path) == []


def test_values_of_a_step_are_told_once(tmp_path: Path) -> None:
    (found,) = ask("origin-missing", "Set {set}`5 ± 1 mm`. Tighten it to {torque}`22 ± 2 N·m`.\n", tmp_path)
    assert "2 values without an origin" in found.message


def limits(one: str, two: str) -> str:
    return f"{ORIGIN}Measure {{read}}`{one}`. Adjust it. Measure again: {{read}}`{two}`.\n"


@pytest.mark.parametrize(
    ("one", "two", "same"),
    [
        ("lid: 7–8 mm", "Lid: 0.7–0.8 cm", True),
        ("lid: 7–8 mm", "lid: 7–9 mm", False),
        ("as found, lid: 7–9 mm", "as left, lid: 7–8 mm", True),
        ("as found, lid: 7–8 mm", "as left, lid: 7–9 mm", False),
        ("as left, lid: 7–8 mm", "as found, lid: 7–9 mm", True),
        ("as found, lid: 7–9 mm", "lid: 7–8 mm", False),
        ("lid: ≤ 8 mm", "lid: ≤ 8 V", False),
        ("≤ 8 mm", "≤ 9 mm", True),
    ],
)
def test_one_name_has_one_limit(one: str, two: str, same: bool, tmp_path: Path) -> None:
    found = ask("reading-two-limits", limits(one, two), tmp_path)
    assert (found == []) is same
    for each in found:
        assert each.severity is Severity.ERROR
        assert len(each.related) == 1


def test_a_new_part_is_measured_as_left_only(tmp_path: Path) -> None:
    text = ORIGIN + "Measure {read}`as left, lid: ≤ 5 mm`.\n"
    assert ask("reading-unpaired", text, tmp_path) == []
    adjust = "task: adjustment\nnumber: A-1\n"
    assert ask("reading-unpaired", adjust, tmp_path) == []


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        ("op: 8.8, ot: 1.2 mm", "no unit"),
        ("op: 8.8 ± 0.1 mm, ot: 3°", "in length and in angle"),
        ("op: 8.8 ± 0.1 mm, use: 70–100 mm", "should be a ratio"),
        ("op: 9–8 mm", "wrong way round"),
    ],
)
def test_figures_of_a_switch(entry: str, words: str, tmp_path: Path) -> None:
    text = f"switches: {{door switch: {{{entry}, origin: data sheet}}}}\n"
    (found,) = ask("profile-value", text, tmp_path)
    assert words in found.message
    assert found.span.path == "rig.md"


@pytest.mark.parametrize("time", ["5", "5 mm", "≤ 5 min", "1,5 min"])
def test_a_bleed_is_a_time_with_a_lower_end(time: str, tmp_path: Path) -> None:
    source = f"{{kind: capacitor, fed-by: [battery], word: warning, release: bleed, bleed: '{time}', prove: Measure.}}"
    battery = "{kind: battery, lockable: true, word: warning, isolate: Out., prove: Measure.}"
    text = f"sources: {{battery: {battery}, capacitor: {source}}}\n"
    (found,) = ask("profile-value", text, tmp_path)
    assert "`bleed` of `capacitor`" in found.message


@pytest.mark.parametrize(
    "range_",
    ["0–60 V", "5 x 20 kg", "0.1–200 MΩ at 250 V", "class I programme", "0–300 mm", "± 5 mm", "12–690 V"],
)
def test_ranges_of_tools_that_are_read(range_: str, tmp_path: Path) -> None:
    assert (
        ask("tool-value", f"tools:\n  - meter: {{range: {range_}, accuracy: 1 % of full scale}}\n", tmp_path)
        == []
    )


@pytest.mark.parametrize(
    ("range_", "words"), [("60–0 V", "wrong way"), ("0,5–60 V", "comma"), ("0–60 v", "not known")]
)
def test_ranges_of_tools_that_are_not(range_: str, words: str, tmp_path: Path) -> None:
    (found,) = ask("tool-value", f"tools:\n  - meter: {{range: '{range_}'}}\n", tmp_path)
    assert words in found.message
    assert shown(found, tmp_path).strip("'") == range_
