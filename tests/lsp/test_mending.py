"""Ways to mend a finding, as an editor's quick fixes; and what happens when the tool itself fails."""

import shutil
from pathlib import Path

import pytest
from lsprotocol import types

from kilter.check.workspace import Workspace
from kilter.diagnostic import Diagnostic, Edit, Fix, error
from kilter.lsp.desk import Desk
from kilter.lsp.room import Opened
from kilter.lsp.server import Server
from kilter.source import Span

DEMO = Path(__file__).parents[2] / "procedures"
PATH, PROFILE = "procedures/lift/lft-120-not-charged.md", "procedures/lift/profile.md"


@pytest.fixture
def desk(tmp_path):
    shutil.copytree(DEMO, tmp_path / "procedures")
    desk = Desk()
    file = tmp_path / PATH
    desk.take(file, Opened("file:///as/the/editor/wrote", 7, file.read_text()))
    return desk


def room_of(desk):
    return next(iter(desk.rooms.values()))


def finding() -> Diagnostic:
    spelt = Fix("spell it `battery`", (Edit(Span(PATH, 3, 1, 3, 5), "x"),), alone=True)
    both = Fix(
        "say it", (Edit(Span(PATH, 3, 1, 3, 1), "y"), Edit(Span(PROFILE, 2, 1, 2, 1), "z")), leaves_blank=True
    )
    return error(
        "unknown-source", "source `batery` is not known", Span(PATH, 3, 1, 3, 5), fixes=(spelt, both)
    )


def actions(desk, monkeypatch, line, versioned=True):
    monkeypatch.setattr(Workspace, "findings", lambda self, path: [finding()] if path == PATH else [])
    server = Server()
    server.versioned = versioned
    where = types.Range(types.Position(line, 0), types.Position(line, 2))
    return server.actions(desk, room_of(desk), PATH, where)


def test_each_fix_is_an_action_and_only_a_sure_one_is_preferred(desk, monkeypatch):
    first, second = actions(desk, monkeypatch, 2)
    assert (first.title, first.kind, first.is_preferred) == ("spell it `battery`", "quickfix", True)
    assert second.title == "say it (leaves a blank to fill in)" and not second.is_preferred
    assert first.diagnostics[0].message.startswith("source `batery`")
    by_uri = {e.text_document.uri: e for e in second.edit.document_changes}
    assert by_uri["file:///as/the/editor/wrote"].text_document.version == 7
    (other,) = [e for uri, e in by_uri.items() if uri.endswith("/lift/profile.md")]
    assert other.edits[0].new_text == "z" and other.text_document.version is None


def test_an_editor_without_versions_gets_plain_changes(desk, monkeypatch):
    first, _ = actions(desk, monkeypatch, 2, versioned=False)
    assert first.edit.changes["file:///as/the/editor/wrote"][0].new_text == "x"


def test_no_action_where_the_cursor_touches_no_finding(desk, monkeypatch):
    assert actions(desk, monkeypatch, 5) == []


def drain(desk):
    while (news := desk.next()) is not None:
        yield from news


def test_a_document_that_makes_the_tool_fail_is_an_error_and_holds_no_other_back(desk, monkeypatch):
    list(drain(desk))
    whole = Workspace.findings
    monkeypatch.setattr(Workspace, "findings", lambda s, p: 1 // 0 if p == PATH else whole(s, p))
    room = room_of(desk)
    room.due |= dict.fromkeys([PATH, PROFILE])
    told = {n.path: n.findings for n in drain(desk)}
    assert [d.rule for d in told[PATH]] == ["tool-fault"]
    monkeypatch.undo()
    room.due[PATH] = None
    assert {n.path: n.findings for n in drain(desk)}[PATH] == []


def test_a_change_that_fails_makes_the_library_be_read_afresh(desk, monkeypatch, tmp_path):
    list(drain(desk))
    room, file = room_of(desk), tmp_path / PATH
    before = room.workspace
    calls = []

    def broken(self, file, text):
        calls.append(file)
        if len(calls) == 1:
            raise ValueError("a fault of our own")
        return whole(self, file, text)

    whole = Workspace.write
    monkeypatch.setattr(Workspace, "write", broken)
    text = file.read_text().replace("(#stop-and-tag)", "(#nowhere)", 1)
    desk.take(file, Opened(file.as_uri(), 8, text))
    assert room.workspace is not before and len(calls) == 2
    told = {n.path: n.findings for n in drain(desk)}
    assert [d.rule for d in told[PATH]] == ["unknown-step"]
