"""A new file passes the check but for its marked blanks, and wholly once they are filled."""

import random
import re
import shutil
from datetime import date
from itertools import islice
from pathlib import Path

import pytest
from tests.publish.skeleton_frame import found, profiles, profiles_with_stages

from kilter.check.run import check_library
from kilter.cli import main
from kilter.diagnostic import Severity
from kilter.model.front import TASKS
from kilter.outcome import CouldNotRunError
from kilter.publish.skeleton import new_text
from kilter.publish.skeleton.words import filled
from kilter.read.library import read_library

DEMO = Path(__file__).parent.parent.parent / "procedures"
MACHINES = ["egret-2", "hearth-60", "roan-3"]
DAY = date(2026, 3, 2)


@pytest.fixture
def library(tmp_path, monkeypatch):
    shutil.copytree(DEMO, tmp_path / "procedures")
    monkeypatch.chdir(tmp_path)
    return tmp_path / "procedures"


@pytest.fixture
def bare(library):
    """The same machines, whose profiles have no shared stages: everything is written out."""
    for file in library.glob("*/profile.md"):
        file.write_text(file.read_text(encoding="utf-8").split("\n## ")[0] + "\n", encoding="utf-8")
    return library


def findings(library, file):
    path = f"procedures/{file}"
    return check_library(read_library(library), {path}).found[path]


def errors(found):
    return [(f.rule, f.message, f.span.line) for f in found if f.severity is Severity.ERROR]


def new(*arguments):
    return main(["new", *arguments])


@pytest.mark.parametrize("machine", MACHINES)
@pytest.mark.parametrize("task", [*TASKS, None])
def test_on_the_demo_machines_only_blanks_are_left(library, machine, task):
    kind = "procedure" if task else "pre-use-check"
    text = new_text(
        kind, library, task=task or "", number="NEW-1", equipment=machine, title="Change it", today=DAY
    )
    (library / "n.md").write_text(text, encoding="utf-8")
    assert {f.rule for f in findings(library, "n.md")} == {"blank-left"}
    (library / "n.md").write_text(filled(text), encoding="utf-8")
    assert errors(findings(library, "n.md")) == []


@pytest.mark.parametrize("seed", range(6))
def test_on_any_machine_a_new_document_starts_safe(tmp_path, seed):
    root = tmp_path / "procedures"
    root.mkdir()
    for n, profile in enumerate(profiles(seed, 12)):
        (root / "unit.md").write_text(profile, encoding="utf-8")
        assert errors(found(root, unit=profile)) == [], profile
        for task in (*TASKS, None):
            kind = "procedure" if task else "pre-use-check"
            text = new_text(kind, root, task=task or "", number="NEW-1", equipment="bench-unit", today=DAY)
            case = f"profile {n}, {task}\n{profile}\n{text}"
            assert {f.rule for f in found(root, unit=profile, new=text)} <= {"blank-left"}, case
            assert errors(found(root, unit=profile, new=filled(text))) == [], case


EFFECTS = ["isolates", "proves", "restores", "removes", "refits", "all-clear", "tests"]


@pytest.mark.parametrize("task", [t for t in TASKS if t != "test"])
@pytest.mark.parametrize("effect", EFFECTS)
def test_what_a_new_procedure_does_for_energy_is_needed(bare, task, effect):
    text = new_text("procedure", bare, task=task, number="NEW-1", equipment="egret-2", title="Change it")
    (bare / "n.md").write_text(filled(text).replace("{" + effect + "}`", "`", 1), encoding="utf-8")
    assert errors(findings(bare, "n.md"))


@pytest.mark.parametrize(
    ("task", "marks"),
    [
        ("fault-isolation", [":exit: left as found", "symptoms:", "{read}`", "#mend-the-second-cause"]),
        ("adjustment", ["{read}`as found,", "{set}`", ":switch: rail latch switch", "{read}`as left,"]),
        ("replacement", ["parts:", "stock-number", "{part}`", "{torque}`"]),
        ("inspection", ["{read}`", "Look for wear"]),
        ("test", ["{tests}`rail interlock`", "{tests}`deck hold`", "{tests}`charging`"]),
    ],
)
def test_each_task_has_what_is_its_own(bare, task, marks):
    text = new_text("procedure", bare, task=task, number="NEW-1", equipment="roan-3", today=DAY)
    assert [m for m in marks if m not in text] == []
    assert "date: 2026-03-02\n" in text


def test_a_test_opens_nothing(library):
    text = new_text("procedure", library, task="test", number="NEW-1", equipment="roan-3")
    assert "{removes}" not in text and "{restores}" not in text


def test_what_drains_is_waited_for_once_and_as_long_as_the_slowest(bare):
    text = new_text("procedure", bare, task="inspection", number="NEW-1", equipment="hearth-60")
    assert "### Let plate heat and fan drain\n\nWait {wait}`40 min`." in text


def test_a_spring_that_work_loads_is_loaded_after_the_cover_and_before_the_power(bare):
    text = new_text("procedure", bare, number="NEW-1", equipment="egret-2")
    places = [
        text.index(m)
        for m in ("{refits}`mast cover`", "{loads}`spreader spring`", "{all-clear}`", "{restores}`")
    ]
    assert places == sorted(places)
    assert "[fill in: wind the tension nut in, and how far]" in text


def test_sources_are_given_back_as_the_profile_needs_it(bare):
    text = new_text("procedure", bare, number="NEW-1", equipment="egret-2")
    assert text.index("{restores}`battery`") < text.index("{restores}`boom`")


def test_a_profile_with_blanks_is_filled_in_first(library, capsys):
    new("equipment", "procedures/m.md", "--id", "marl-4", "--title", "Chair scale")
    assert new("procedure", "procedures/n.md", "--equipment", "marl-4", "--number", "NEW-1") == 2
    said = capsys.readouterr().err
    line = int(said.split("procedures/m.md:")[1].split(":")[0])
    assert "[fill in: initials]" in (library / "m.md").read_text(encoding="utf-8").splitlines()[line - 1]
    assert "[fill in: initials]" in said
    assert not (library / "n.md").exists()


def test_a_profile_that_can_not_be_read_is_mended_first(library, capsys):
    file = library / "lift" / "profile.md"
    file.write_text(
        file.read_text(encoding="utf-8").replace("kind: gravity", "kind: gravty"), encoding="utf-8"
    )
    assert new("procedure", "procedures/n.md", "--equipment", "egret-2", "--number", "NEW-1") == 2
    assert "procedures/lift/profile.md:" in (said := capsys.readouterr().err) and "gravty" in said


def test_nothing_is_overwritten(library, capsys):
    file = library / "front.md"
    before = file.read_bytes()
    assert new("procedure", "procedures/front.md", "--equipment", "egret-2", "--number", "N-1") == 2
    assert file.read_bytes() == before
    assert "is there already" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["--number", "N-1"], "which equipment"),
        (["--number", "N-1", "--equipment", "egrt-2"], "did you mean `egret-2`"),
        (["--equipment", "egret-2"], "number is missing"),
        (["--equipment", "egret-2", "--number", "N-1", "--task", "replacment"], "did you mean `replacement`"),
        (["--equipment", "egret-2", "--number", "N 1"], "`N 1` is no number"),
        (["--equipment", "egret-2", "--number", "index"], "address of a page"),
        (["--equipment", "egret-2", "--number", "lft-120"], "the next free one is lft-121"),
        (["--equipment", "egret-2", "--number", "LFT-130"], "the next free one is LFT-131"),
        (["--equipment", "egret-2", "--number", "N-1", "--guards", "lid"], "--guards is not for procedure"),
    ],
)
def test_a_missing_or_wrong_option_is_said(library, capsys, arguments, says):
    assert new("procedure", "procedures/n.md", *arguments) == 2
    assert says in capsys.readouterr().err
    assert not (library / "n.md").exists()


def test_the_next_free_number_keeps_its_zeros_and_skips_what_is_taken(library):
    for number in ("LFT-011", "LFT-012"):
        text = new_text("pre-use-check", library, number=number, equipment="egret-2")
        (library / f"{number}.md").write_text(text, encoding="utf-8")
    with pytest.raises(CouldNotRunError, match="next free one is LFT-013"):
        new_text("pre-use-check", library, number="LFT-010", equipment="egret-2")


@pytest.mark.parametrize(
    ("file", "why"),
    [
        ("n.md", "below a folder `procedures`"),
        ("procedures/n.txt", "does not end in .md"),
        ("procedures/.n.md", "not that of a document"),
        ("procedures/deep/n.md", None),
    ],
)
def test_a_file_that_the_library_will_not_see_is_warned_of(library, capsys, file, why):
    assert new("pre-use-check", file, "--equipment", "egret-2", "--number", "N-1") == 0
    said = capsys.readouterr().err
    assert (why in said) if why else said == ""


ZONED = [t for t in TASKS if t != "test"]


@pytest.mark.parametrize("task", ZONED)
@pytest.mark.parametrize(
    ("machine", "zone", "off", "proved"),
    [
        ("roan-3", "rail", {"rail cover"}, {"battery", "drive wheel", "deck", "rail spring"}),
        ("hearth-60", "door head", {"door head cover"}, {"mains"}),
        ("hearth-60", "Chamber", {"element cover"}, {"mains", "plate heat", "fan"}),
    ],
)
def test_in_a_zone_only_its_covers_come_off_and_only_its_sources_are_proved(
    bare, task, machine, zone, off, proved
):
    text = new_text("procedure", bare, task=task, number="NEW-1", equipment=machine, zone=zone)
    assert set(re.findall("{removes}`([^`]*)`", text)) == off
    assert set(re.findall("{proves}`([^`]*)`", text)) == proved
    (bare / "n.md").write_text(text, encoding="utf-8")
    assert {f.rule for f in findings(bare, "n.md")} == {"blank-left"}
    (bare / "n.md").write_text(filled(text), encoding="utf-8")
    assert errors(findings(bare, "n.md")) == []


def test_a_shared_stage_that_proves_what_the_zone_does_not_reach_is_not_asked_for(library):
    text = new_text("procedure", library, number="NEW-1", equipment="hearth-60", zone="door head")
    assert ":do: make-safe" not in text and "fan`" not in text
    text = new_text("procedure", library, number="NEW-1", equipment="hearth-60", zone="chamber")
    assert ":do: make-safe" in text


@pytest.mark.parametrize("seed", range(3))
def test_in_any_zone_of_any_machine_a_new_procedure_starts_safe(tmp_path, seed):
    root, rng, zoned = tmp_path / "procedures", random.Random(seed), 0
    root.mkdir()
    for profile in profiles(seed + 100, 12):
        (root / "unit.md").write_text(profile, encoding="utf-8")
        names = [*next(iter(read_library(root).profiles.values())).profile.sources]
        if not names:
            continue
        reach = ", ".join(rng.sample(names, rng.randint(1, len(names))))
        profile = profile.replace("\n---\n", f"\nzones: {{bay: [{reach}]}}\n---\n", 1)
        assert "zones:" in profile
        (root / "unit.md").write_text(profile, encoding="utf-8")
        text = new_text("procedure", root, task=rng.choice(ZONED), number="NEW-1", zone="bay", today=DAY)
        assert errors(found(root, unit=profile, new=filled(text))) == [], f"{profile}\n{text}"
        zoned += ":zone: bay" in text
    assert zoned


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("procedure", "--zone", "rial"), "did you mean `rail`"),
        (("procedure", "--zone", "rail", "--task", "test"), "a test opens nothing"),
        (("pre-use-check", "--zone", "rail"), "a pre-use-check opens nothing"),
    ],
)
def test_a_zone_that_can_not_be_is_said(library, capsys, arguments, says):
    kind, *rest = arguments
    assert new(kind, "procedures/n.md", "--equipment", "roan-3", "--number", "N-1", *rest) == 2
    assert says in capsys.readouterr().err


def test_what_the_profile_says_ends_with_its_mark_and_its_tools_enter_the_kit(bare):
    text = new_text("procedure", bare, number="NEW-1", equipment="egret-2")
    assert "\nDock plug out of the wall, in a locked plug case: {isolates}`dock supply`.\n" in text
    step = text.split("### Prove zero from outside")[1].split("###")[0]
    assert "{tool}`Voltmeter` across the dock plungers, 1 V or less: {proves}`dock supply`." in step
    assert ". Voltmeter from jack" in step  # named once in a step
    assert "Swing the leg pedal by hand" in step and step.count("{tool}`") == 1


def test_an_answer_says_the_title_that_it_leads_to(bare):
    text = new_text("procedure", bare, number="NEW-1", equipment="egret-2")
    titles = dict(re.findall(r"### (Test .+)\n:id: (test-\d+)", text))
    links = {target: words for words, target in re.findall(r"\[([^\[\]]+)\]\(#(test-\d+)\)", text)}
    assert links and all(titles[words] == target for target, words in links.items())


def test_no_tool_is_found_inside_another_word_or_from_an_odd_name(bare):
    file = bare / "lift" / "profile.md"
    text = file.read_text(encoding="utf-8")
    text = text.replace("- tension key", "- volt\n  - Boom-end\n  - 'a*b'", 1)
    file.write_text(
        text.replace("Voltmeter across", "Volt-probe, voltages, a*b, volt across", 1), encoding="utf-8"
    )
    step = new_text("procedure", bare, number="N-1", equipment="egret-2").split("### Prove zero")[1]
    assert "Volt-probe, voltages, a\\*b, {tool}`volt` across" in step


def test_help_lists_the_tasks(capsys):
    with pytest.raises(SystemExit):
        main(["new", "--help"])
    said = " ".join(capsys.readouterr().out.split())
    assert ", ".join(TASKS) in said


def test_a_title_of_any_signs_is_kept(library):
    title = 'Fit the "A*B*" lead [2] {x} \\ `c`'
    text = new_text("procedure", library, number="N-1", equipment="egret-2", title=title)
    (library / "n.md").write_text(text, encoding="utf-8")
    assert {f.rule for f in findings(library, "n.md")} == {"blank-left"}


@pytest.mark.parametrize("machine", MACHINES)
@pytest.mark.parametrize("task", [t for t in TASKS if t != "test"])
def test_the_profile_s_own_shared_stages_are_asked_for(library, machine, task):
    text = new_text("procedure", library, task=task, number="NEW-1", equipment=machine)
    assert ":do: make-safe" in text and ":do: give-power-back" in text and ":do: test-before-service" in text
    assert len(text) < len(new_text_on_bare(library, task, machine))


def new_text_on_bare(library, task, machine):
    file = next(
        f for f in library.glob("*/profile.md") if f"id: {machine}\n" in f.read_text(encoding="utf-8")
    )
    file.write_text(file.read_text(encoding="utf-8").split("\n## ")[0] + "\n", encoding="utf-8")
    return new_text("procedure", library, task=task, number="NEW-1", equipment=machine)


def test_a_shared_stage_that_forgets_a_source_is_not_taken_for_making_safe(library):
    file = library / "lift" / "profile.md"
    text = file.read_text(encoding="utf-8").replace("{isolates}`boom`", "`boom`", 1)
    file.write_text(text, encoding="utf-8")
    text = new_text("procedure", library, number="NEW-1", equipment="egret-2")
    assert ":do: make-safe" not in text and "{isolates}`boom`" in text and ":do: give-power-back" in text


def test_on_machines_with_any_shared_stages_a_new_document_starts_safe(tmp_path):
    root, asked = tmp_path / "procedures", 0
    root.mkdir()
    rng = random.Random(5)
    for profile in islice(profiles_with_stages(rng), 12):
        (root / "unit.md").write_text(profile, encoding="utf-8")
        text = new_text("procedure", root, task=rng.choice(TASKS[:4]), number="NEW-1", today=DAY)
        said = [f for f in found(root, unit=profile, new=filled(text)) if f.span.path == "new.md"]
        assert errors(said) == [], f"{profile}\n{text}"
        asked += ":do:" in text
    assert asked
