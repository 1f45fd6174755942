"""A new name everywhere at once: the findings stay what they were."""

import os
import random
import shutil
from pathlib import Path

import pytest

from kilter.assist.navigate import references, text_in
from kilter.assist.rename import rename, renameable
from kilter.assist.uses import uses
from kilter.assist.values import RefusedError
from kilter.check.run import check_library
from kilter.check.workspace import Workspace
from kilter.read.library import read_library

DEMO = Path(__file__).parents[2] / "procedures"


@pytest.fixture(scope="module")
def library(tmp_path_factory):
    root = tmp_path_factory.mktemp("rename") / "procedures"
    shutil.copytree(DEMO, root)
    # a library without a finding would hide a rename that loses one
    for name, old, new in (
        ("profile.md", "Push down on the boom end: {proves}`boom`", "Push down on the boom end"),
        ("lft-120-not-charged.md", ":origin: shop rule\n", ""),
        ("lft-130-charge-lead.md", "{removes}`mast cover`", "mast cover"),
    ):
        file = root / "lift" / name
        file.write_text(file.read_text().replace(old, new))
    return root


def apply(text, edits):
    """Edits from the last to the first, so that places stay true."""
    rows = text.split("\n")
    for edit in sorted(edits, key=lambda e: e.span, reverse=True):
        s = edit.span
        head, tail = rows[s.line - 1][: s.column - 1], rows[s.end_line - 1][s.end_column - 1 :]
        rows[s.line - 1 : s.end_line] = [head + edit.text + tail]
    return "\n".join(rows)


def facts(workspace):
    """What is found and where; columns and names move with the new name."""
    return told(workspace.report())


def told(report):
    """All but that a step is not what an educator last looked at: with a new name it is not."""
    found = (d for d in report.all() if d.rule != "step-changed")
    return sorted((d.span.path, d.span.line, d.rule, d.severity) for d in found)


def things(workspace):
    """One place of every thing that can be renamed."""
    found = {}
    for document in workspace.library.documents.values():
        for use in uses(workspace.library, document):
            if use.defines and use.thing[0] in ("step", "stage", "source", "guard", "zone", "switch", "test"):
                found[use.thing] = use
    return found


def some(tried, each=6):
    """Of every kind a few, the same ones each time."""
    kinds = {}
    for thing in tried:
        kinds.setdefault(thing[0], []).append(thing)
    dice = random.Random(5)
    return {t: tried[t] for kind in kinds.values() for t in dice.sample(kind, min(each, len(kind)))}


def test_every_name_of_the_demo_library_can_be_changed_and_findings_stay(library):
    workspace = Workspace(library, library.parent)
    before, tried = facts(workspace), things(workspace)
    assert len(before) >= 3 and len(tried) > 100
    chosen = tried if "KILTER_ALL_NAMES" in os.environ else some(tried)
    for thing, use in chosen.items():
        span = use.span
        old = renameable(workspace, span.path, span.line, span.column)[1]
        edits = rename(workspace, span.path, span.line, span.column, f"{old}x")
        assert edits, thing
        kept = {p: workspace.library.sources[p].text for p in edits}
        for path, each in edits.items():
            workspace.write(library.parent / path, apply(kept[path], each))
        assert facts(workspace) == before, thing
        for path in edits:
            workspace.let_go(library.parent / path)
    assert facts(workspace) == before


def test_a_renamed_library_on_the_disk_has_the_same_findings(tmp_path, library):
    root = tmp_path / "procedures"
    shutil.copytree(library, root)
    workspace = Workspace(root, tmp_path)
    before = facts(workspace)
    for kind in ("source", "step"):
        use = next(u for t, u in things(workspace).items() if t[0] == kind)
        for path, edits in rename(
            workspace, use.span.path, use.span.line, use.span.column, "Other one"
        ).items():
            file = tmp_path / path
            file.write_text(apply(file.read_text(), edits))
            workspace.refresh([file])
    fresh = check_library(read_library(root, base=tmp_path))
    assert told(fresh) == before
    assert (
        "Other one"
        in (root / "lift" / "profile.md").read_text() + (root / "stretcher" / "profile.md").read_text()
    )


def place(workspace, path, words, skip=0):
    source = workspace.library.sources[path]
    at = source.text.index(words) + skip
    span = source.span(at, at)
    return path, span.line, span.column


@pytest.fixture
def workspace(library):
    return Workspace(library, library.parent)


LIFT = "procedures/lift/lft-120-not-charged.md"
PROFILE = "procedures/lift/profile.md"


def test_a_source_is_renamed_from_a_mark_in_another_document(workspace):
    edits = rename(workspace, *place(workspace, LIFT, "`dock supply`", 3), "wall dock")
    assert {PROFILE, LIFT, "procedures/lift/lft-130-charge-lead.md"} <= set(edits)
    text = apply(workspace.library.sources[PROFILE].text, edits[PROFILE])
    assert (
        "\n  wall dock:\n" in text
        and "charged-by: [wall dock]" in text
        and "base: [wall dock, battery" in text
    )
    text = apply(workspace.library.sources[LIFT].text, edits[LIFT])
    assert "`dock supply`" not in text and ":hands: live wall dock - the" in text
    assert ":::{danger} wall dock\n" in text and "The dock carries mains voltage" in text


def test_needs_fed_by_clear_of_and_failed_proofs_follow(workspace):
    edits = rename(workspace, *place(workspace, PROFILE, "  battery:", 4), "pack")
    text = apply(workspace.library.sources[PROFILE].text, edits[PROFILE])
    assert "needs: {restores: [pack]}" in text
    assert ":clear-of: pack, boom," in apply(workspace.library.sources[LIFT].text, edits[LIFT])
    edits = rename(workspace, *place(workspace, PROFILE, "{not-zero spreader", 14), "leg spring")
    assert "{not-zero leg spring}" in apply(workspace.library.sources[PROFILE].text, edits[PROFILE])


def test_a_name_that_yaml_would_misread_is_put_in_quotes(workspace):
    edits = rename(workspace, *place(workspace, PROFILE, "  battery:", 4), "null")
    text = apply(workspace.library.sources[PROFILE].text, edits[PROFILE])
    assert '\n  "null":\n' in text and "{isolates}`null`" in text


def test_a_step_takes_its_links_and_their_words_along(workspace):
    edits = rename(workspace, *place(workspace, LIFT, "### Measure the path", 6), "Measure the charge path")
    assert set(edits) == {LIFT}
    text = apply(workspace.library.sources[LIFT].text, edits[LIFT])
    assert "### Measure the charge path\n" in text and ":go-to: #measure-the-charge-path" in text
    assert "[Measure the charge path](#measure-the-charge-path)" in text and "#measure-the-path" not in text


def test_a_step_with_an_id_keeps_its_heading(workspace, library):
    file = library / "lift" / "lft-120-not-charged.md"
    text = file.read_text().replace("### Measure the path\n", "### Measure the path\n:id: path\n")
    workspace.write(file, text.replace("#measure-the-path", "#path"))
    edits = rename(workspace, *place(workspace, LIFT, "](#path)", 4), "lead-path")
    text = apply(workspace.library.sources[LIFT].text, edits[LIFT])
    assert "### Measure the path\n:id: lead-path\n" in text and ":go-to: #lead-path" in text
    with pytest.raises(RefusedError, match="`lead-path`"):
        rename(workspace, *place(workspace, LIFT, "](#path)", 4), "Lead path")


def test_a_shared_stage_of_the_profile_is_renamed_where_it_is_done(workspace):
    edits = rename(workspace, *place(workspace, LIFT, ":do: make-safe", 7), "Lock it out")
    assert "## Lock it out {shared}" in apply(workspace.library.sources[PROFILE].text, edits[PROFILE])
    assert ":do: lock-it-out" in apply(workspace.library.sources[LIFT].text, edits[LIFT])


@pytest.mark.parametrize(
    ("path", "words", "skip", "new", "why"),
    [
        (PROFILE, "  battery:", 4, " ", "is empty"),
        (PROFILE, "  battery:", 4, "pack, old", "a comma"),
        (PROFILE, "  battery:", 4, "Boom", "already exists"),
        (PROFILE, "  battery:", 4, "a`b", "use plain words"),
        (PROFILE, "  battery:", 4, "pack - old", "dash"),
        (PROFILE, "Mobile patient lift", 2, "x", "no name here"),
        (LIFT, "number: LFT-120", 10, "LFT-1", "for ever"),
        (LIFT, "{tool}`voltmeter`", 9, "meter", "a tool can't be renamed"),
        (LIFT, "### Measure the path", 6, "Close the covers", "already exists"),
        (LIFT, "### Measure the path", 6, "Back", "way back"),
        (LIFT, "### Measure the path", 6, "...", "nothing to link to"),
        (LIFT, "### Measure the path", 6, "Make safe", "already exists"),
    ],
)
def test_a_refusal_says_why(workspace, path, words, skip, new, why):
    with pytest.raises(RefusedError, match=why):
        rename(workspace, *place(workspace, path, words, skip), new)


def test_a_file_that_cannot_be_read_holds_a_rename_up(workspace, library):
    workspace.write(
        library / "lift" / "lft-130-charge-lead.md", "---\nequipment: egret-2\n---\n{isolates}`battery`\n"
    )
    with pytest.raises(RefusedError, match="mend it first"):
        rename(workspace, *place(workspace, PROFILE, "  battery:", 4), "pack")
    with pytest.raises(RefusedError, match="can't be read yet"):
        rename(workspace, "procedures/lift/lft-130-charge-lead.md", 4, 14, "pack")


def test_references_cover_exactly_the_name(workspace):
    spans = references(workspace, *place(workspace, PROFILE, "  boom:", 4))
    assert len(spans) == 12
    words = {text_in(workspace.library.sources[s.path], s) for s in spans}
    assert words == {"boom"}
