"""What the editor gets for its questions, over the real protocol."""

import shutil
import time
from pathlib import Path

import pytest
from tests.lsp.client import CAPABILITIES, Client

DEMO = Path(__file__).parents[2] / "procedures"


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    folder = tmp_path_factory.mktemp("server")
    shutil.copytree(DEMO, folder / "procedures")
    (folder / "notes.md").write_text("# Notes\n\n{isolates}`x`\n")
    return folder


@pytest.fixture(scope="module")
def client(folder):
    with Client([folder], pause=3) as client:
        yield client
    assert client.junk == [] and client.errors == [] and client.process.returncode == 0


@pytest.fixture
def lift(client, folder):
    file = folder / "procedures" / "lift" / "lft-120-not-charged.md"
    client.open(file)
    client.wait(file, 1)
    yield file
    client.shut(file)
    until(lambda: client.messages(file) == [])


def until(true, timeout=10):
    """Wait for something that comes by itself."""
    end = time.perf_counter() + timeout
    while not true():
        assert time.perf_counter() < end, "it never came"
        time.sleep(0.005)


def place(text, words):
    """0-based line and UTF-16 character of `|` in the first such words."""
    before, after = words.split("|")
    at = text.index(before + after) + len(before)
    row = text[text.rfind("\n", 0, at) + 1 : at]
    return text.count("\n", 0, at), len(row.encode("utf-16-le")) // 2


def put(client, file, old, new):
    """Change a text and wait for its findings; returns the text."""
    text = file.read_text().replace(old, new, 1)
    assert text != file.read_text()
    client.wait(file, client.change(file, text))
    return text


def test_it_says_what_it_can_do(client):
    able = client.capabilities
    assert able["textDocumentSync"]["change"] == 1 and able["positionEncoding"] == "utf-16"
    assert able["renameProvider"] == {"prepareProvider": True}
    assert able["codeActionProvider"]["codeActionKinds"] == ["quickfix", "refactor.rewrite"]
    until(lambda: client.requests)
    globs = [
        w["globPattern"]
        for w in client.requests[0]["params"]["registrations"][0]["registerOptions"]["watchers"]
    ]
    assert "**/*.md" in globs and "**/mkdocs.yml" in globs


def test_a_finding_has_code_severity_help_and_the_way_in(client, lift):
    put(client, lift, ":::{warning} battery, boom", ":::{warning} boom")
    found = client.published[lift.as_uri()]["diagnostics"]
    assert found and all(d["source"] == "kilter" and d["code"].startswith("K") for d in found)
    ways = [r["message"] for d in found for r in d.get("relatedInformation", [])]
    assert any(w.startswith("the way in, 1: ") for w in ways), found
    assert {d["severity"] for d in found} <= {1, 2, 3} and any("\n" in d["message"] for d in found)


def test_a_change_of_the_profile_reaches_files_that_are_not_open(client, folder):
    profile = folder / "procedures" / "lift" / "profile.md"
    other = folder / "procedures" / "lift" / "lft-130-charge-lead.md"
    client.open(profile)
    client.change(profile, profile.read_text().replace("  battery:\n", "  pack:\n"))
    until(lambda: any("source `battery` is not in the profile" in m for m in client.messages(other)))
    label = client.published[other.as_uri()]["diagnostics"][0]["relatedInformation"][0]
    assert label["location"]["uri"] == profile.as_uri()
    client.shut(profile)
    until(lambda: client.messages(other) == [] and client.messages(profile) == [])


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16", "utf-32"])
def test_columns_are_counted_as_agreed_also_behind_signs_of_four_bytes(tmp_path, encoding):
    shutil.copytree(DEMO, tmp_path / "procedures")
    file = tmp_path / "procedures" / "lift" / "lft-130-charge-lead.md"
    row = "Wipe it 😀𝛀é with a cloth: {isolates}`batery`, {isolates}`boom`."
    text = file.read_text().replace("File the burr off.", row)
    count = {
        "utf-8": lambda s: len(s.encode()), "utf-16": lambda s: len(s.encode("utf-16-le")) // 2, "utf-32": len,
    }[encoding]  # fmt: skip
    agreed = CAPABILITIES | {"general": {"positionEncodings": [encoding]}}
    with Client([tmp_path], agreed, pause=3) as client:
        assert client.capabilities["positionEncoding"] == encoding
        client.open(file, text)
        client.wait(file, 1)
        line = text[: text.index(row)].count("\n")
        found = [d for d in client.published[file.as_uri()]["diagnostics"] if "batery" in d["message"]]
        start = count(row[: row.index("batery")])
        assert found[0]["range"] == {
            "start": {"line": line, "character": start}, "end": {"line": line, "character": start + 6},
        }  # fmt: skip
        told = client.ask("hover", file, line, count(row[: row.index("boom") + 2]))
        assert told["contents"]["value"].startswith("**boom**")
        assert told["range"]["start"]["character"] == count(row[: row.index("boom")])
        offers = client.ask("completion", file, line, count(row[: row.index("batery") + 3]))
        assert offers[0]["textEdit"]["range"]["start"]["character"] == start
    assert client.junk == []


def test_names_are_offered_with_an_edit_in_our_order(client, lift):
    text = put(client, lift, "Tell the workshop lead.", "Tell them {isolates}`bo`.")
    offers = client.ask("completion", lift, *place(text, "{isolates}`bo|`"))
    assert [o["label"] for o in offers] == ["dock supply", "battery", "boom", "spreader spring"]
    assert [o["sortText"] for o in offers] == ["0000", "0001", "0002", "0003"]
    line, at = place(text, "{isolates}`|bo`")
    wanted = {"start": {"line": line, "character": at}, "end": {"line": line, "character": at + 2}}
    assert offers[2]["textEdit"] == {"range": wanted, "newText": "boom"}
    assert client.ask("completion", lift, *place(text, "Tell th|em")) == []


def test_a_question_right_behind_a_change_sees_the_change(client, lift):
    text = lift.read_text().replace("Tell the workshop lead.", "Tell {wait}`5 `.")
    client.change(lift, text)
    assert [o["label"] for o in client.ask("completion", lift, *place(text, "{wait}`5 |`"))][:2] == [
        "s",
        "min",
    ]


def test_a_link_leads_to_its_step_and_back(client, lift):
    text = lift.read_text()
    line, at = place(text, "### |Measure the dock")
    (there,) = client.ask("definition", lift, *place(text, "(#measure-the|-dock)"))
    assert there["uri"] == lift.as_uri() and there["range"]["start"] == {"line": line, "character": at}
    found = client.ask("references", lift, line, at, context={"includeDeclaration": False})
    assert len(found) == text.count("(#measure-the-dock)")
    (profile,) = client.ask("definition", lift, *place(text, "{isolates}`b|oom`"))
    assert profile["uri"].endswith("/lift/profile.md")


def test_the_outline_is_a_tree(client, lift):
    found = client.request("textDocument/documentSymbol", {"textDocument": {"uri": lift.as_uri()}})
    assert [s["name"] for s in found][:2] == ["Measure from outside", "Fuse side"]
    assert found[0]["children"][0]["name"] == "Watch the dock lamp"


def test_a_rename_is_one_change_over_files_held_to_versions(client, lift, folder):
    text = lift.read_text()
    where = place(text, "{isolates}`b|oom`")
    assert client.ask("prepareRename", lift, *where)["placeholder"] == "boom"
    edits = client.ask("rename", lift, *where, newName="arm")["documentChanges"]
    by_uri = {e["textDocument"]["uri"]: e for e in edits}
    assert by_uri[lift.as_uri()]["textDocument"]["version"] == 1
    profile = by_uri[(folder / "procedures" / "lift" / "profile.md").as_uri()]
    assert profile["textDocument"]["version"] is None and {e["newText"] for e in profile["edits"]} == {"arm"}


@pytest.mark.parametrize(
    ("words", "name", "why"), [("b|oom`", "battery", "already exists"), ("b|oom`", "", "is empty")]
)
def test_a_rename_that_cannot_be_is_refused_with_the_reason(client, lift, words, name, why):
    with pytest.raises(RuntimeError, match=f"-32803 .*{why}"):
        client.ask("rename", lift, *place(lift.read_text(), "{isolates}`" + words), newName=name)
    with pytest.raises(RuntimeError, match="-32803 there is no name here"):
        client.ask("prepareRename", lift, *place(lift.read_text(), "Three causes| are"))


def test_a_quick_fix_mends_what_it_is_offered_for(client, lift):
    text = put(client, lift, "(#measure-the-pack)", "(#measure-the-pak)")
    line, at = place(text, "(#|measure-the-pak)")
    where = {"start": {"line": line, "character": at}, "end": {"line": line, "character": at}}
    asked = {"textDocument": {"uri": lift.as_uri()}, "range": where, "context": {"diagnostics": []}}
    (fix,) = client.request("textDocument/codeAction", asked)
    assert fix["kind"] == "quickfix" and "measure-the-pack" in fix["title"]
    assert fix["diagnostics"] == client.published[lift.as_uri()]["diagnostics"][:1]
    (edit,) = fix["edit"]["documentChanges"][0]["edits"]
    rows, start, end = text.split("\n"), edit["range"]["start"], edit["range"]["end"]
    assert start["line"] == end["line"]
    row = rows[start["line"]]
    rows[start["line"]] = row[: start["character"]] + edit["newText"] + row[end["character"] :]
    assert "\n".join(rows) == lift.read_text()
    asked["context"]["only"] = ["refactor"]
    assert client.request("textDocument/codeAction", asked) == []


def test_a_value_is_shown_in_the_other_system_of_units(client, lift):
    text = lift.read_text()
    client.open(lift)
    mark = text.index("{torque}`")
    start = mark + len("{torque}`")
    written = text[start : text.index("`", start)]
    line, at = text.count("\n", 0, start), start - (text.rfind("\n", 0, start) + 1)
    where = {"start": {"line": line, "character": at}, "end": {"line": line, "character": at}}
    asked = {
        "textDocument": {"uri": lift.as_uri()},
        "range": where,
        "context": {"diagnostics": [], "only": ["refactor"]},
    }
    (offer,) = client.request("textDocument/codeAction", asked)
    assert offer["kind"] == "refactor.rewrite"
    (edit,) = offer["edit"]["documentChanges"][0]["edits"]
    assert edit["range"]["start"] == where["start"]
    assert edit["range"]["end"]["character"] - at == len(written)
    assert offer["title"] == f"show as {edit['newText']}" and "lbf" in edit["newText"]


def test_items_are_numbered_clockwise_with_what_the_text_says_of_them(client, folder):
    """Offered in the figure's block and nowhere else; the numbers change in pairs, so none is lost."""
    file = folder / "procedures" / "stretcher" / "str-130-column-hose.md"
    text = file.read_text()
    client.open(file)
    line, at = place(text, ":::{figure}| pictures/column-foot")
    where = {"start": {"line": line, "character": at}, "end": {"line": line, "character": at}}
    context = {"diagnostics": [], "only": ["refactor"]}
    asked = {"textDocument": {"uri": file.as_uri()}, "range": where, "context": context}
    (offer,) = client.request("textDocument/codeAction", asked)
    assert (
        offer["title"] == f"number the items clockwise ({text.count('{item}`fig-column')} in the text follow)"
    )
    edits = offer["edit"]["documentChanges"][0]["edits"]
    assert len([e for e in edits if e["newText"].startswith(":")]) > 2
    where["start"]["line"] = where["end"]["line"] = line - 3
    assert client.request("textDocument/codeAction", asked) == []


def test_files_that_are_none_of_ours_are_left_alone(client, folder):
    for file in (folder / "notes.md", folder / "procedures" / "front.md"):
        client.open(file)
        assert client.ask("hover", file, 2, 3) is None and client.ask("completion", file, 2, 11) == []
        client.shut(file)
        time.sleep(0.3)  # others of the library may still be told of meanwhile
        assert file.as_uri() not in client.times
    document = {
        "uri": "untitled:Untitled-1",
        "languageId": "markdown",
        "version": 1,
        "text": "---\nkind: x\n",
    }
    client.notify("textDocument/didOpen", {"textDocument": document})


def test_a_document_outside_a_library_has_its_own_until_it_is_closed(client, tmp_path):
    file = tmp_path / "alone.md"
    file.write_text("---\nkind: procedure\ntitle: x\n---\n")
    client.open(file)
    client.wait(file, 1)
    assert any("`number` is missing" in m for m in client.messages(file))
    client.shut(file)
    until(lambda: client.messages(file) == [])


def test_a_file_that_goes_takes_its_findings_along(client, folder):
    file = folder / "procedures" / "lift" / "bad.md"
    file.write_text("no front matter\n")
    client.on_disk(file, kind=1)
    until(lambda: client.messages(file))
    file.unlink()
    client.on_disk(file, kind=3)
    until(lambda: client.messages(file) == [])


def test_a_folder_that_leaves_takes_its_findings_along(tmp_path):
    shutil.copytree(DEMO, tmp_path / "procedures")
    file = tmp_path / "procedures" / "lift" / "bad.md"
    file.write_text("no front matter\n")
    with Client([tmp_path], pause=3) as client:
        until(lambda: client.messages(file))
        folder = {"uri": tmp_path.as_uri(), "name": "x"}
        client.notify("workspace/didChangeWorkspaceFolders", {"event": {"added": [], "removed": [folder]}})
        until(lambda: client.messages(file) == [])
        client.notify("workspace/didChangeWorkspaceFolders", {"event": {"added": [folder], "removed": []}})
        until(lambda: client.messages(file))


def test_nonsense_is_answered_and_the_server_goes_on(client, lift):
    with pytest.raises(RuntimeError):
        client.request("kilter/nonsense", {})
    client.notify(
        "textDocument/didChange",
        {"textDocument": {"uri": "file:///nowhere.md", "version": 1}, "contentChanges": []},
    )
    assert client.ask("hover", lift, 99_999, 99_999) is None
    assert client.ask("completion", lift, 0, 99_999) == []
    text = put(client, lift, "(#stop-and-tag)", "(#stop-and-tagg)")
    assert any("stop-and-tagg" in m for m in client.messages(lift)) and text


def test_a_plain_editor_gets_plain_answers(tmp_path):
    shutil.copytree(DEMO, tmp_path / "procedures")
    file = tmp_path / "procedures" / "lift" / "lft-120-not-charged.md"
    text = file.read_text().replace(":::{warning} battery, boom", ":::{warning} boom", 1)
    with Client([], {}, pause=3) as client:
        client.open(file, text)
        client.wait(file, 1)
        found = client.published[file.as_uri()]["diagnostics"]
        assert not any("relatedInformation" in d for d in found)
        assert any("the way in: " in d["message"] for d in found)
        edits = client.ask("rename", file, *place(text, "{isolates}`b|oom`"), newName="arm")
        assert file.as_uri() in edits["changes"]


def test_what_is_no_message_is_logged_and_the_next_one_is_answered(tmp_path):
    with Client([tmp_path], {}) as client:
        for body in (b"{broken", b"[]", b'{"jsonrpc": "2.0", "method": "textDocument/didOpen", "params": 5}'):
            client.raw(body)
        assert (
            client.request(
                "textDocument/hover",
                {"textDocument": {"uri": "file:///x.md"}, "position": {"line": 0, "character": 0}},
            )
            is None
        )
    assert client.junk == [] and client.process.returncode == 0


def test_it_leaves_when_the_editor_is_gone(tmp_path):
    client = Client([tmp_path], {})
    client.process.stdin.close()
    assert client.process.wait(10) == 0
    client.close()
