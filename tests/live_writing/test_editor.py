"""The editor's routes: an unsaved text is checked aside, and saving never overwrites somebody else's change."""

import re

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from kilter.live.writing.difference import difference
from kilter.live.writing.store import formed

from .frame import bench, findings, get, post

NAME = "lift/lft-120-not-charged.md"


@pytest.fixture
def own(tmp_path):
    return bench(tmp_path)


def loaded(own, name=NAME):
    status, page = get(own, f"/write/{name}")
    assert status == 200
    return re.search(r'data-hash="([0-9a-f]{64})"', page)[1], (own.root / name).read_text(encoding="utf-8")


def test_the_page_holds_the_text_and_nothing_inline(own):
    status, page = get(own, f"/write/{NAME}")
    assert status == 200
    assert "LFT-120" in page and 'type="module" src="/writing/editor.js"' in page
    assert not re.search(r"<style|\sstyle=|\son\w+=|<script(?![^>]* src=)", page)


@pytest.mark.parametrize(
    "name",
    [
        "../mkdocs.yml",
        "lift/pictures/lift.svg",
        "front.md",
        "/etc/passwd",
        "lift/../../x.md",
        ".hidden/x.md",
        "lift",
        "a\\b.md",
    ],
)
def test_what_is_no_document_of_the_library_is_refused(own, name):
    assert get(own, f"/write/{name}")[0] == 404
    for address in ("/write/check", "/write/save"):
        status, said = post(
            own, address, {"path": name, "text": "x", **({"base": ""} if "save" in address else {})}
        )
        assert status == 404 and "no such document" in said["error"]


def test_a_link_out_of_the_library_is_refused(own, tmp_path):
    (tmp_path / "secret.md").write_text("---\nsecret\n")
    (own.root / "link.md").symlink_to(tmp_path / "secret.md")
    assert get(own, "/write/link.md")[0] == 404
    assert post(own, "/write/save", {"path": "link.md", "text": "x", "base": ""})[0] == 404


def test_an_unsaved_text_is_checked_and_leaves_no_trace(own):
    before, revision, generation = findings(own), own.workspace.revision, own.generation
    _, text = loaded(own)
    status, said = post(own, "/write/check", {"path": NAME, "text": text.replace("{isolates}", "{isolatse}")})
    assert status == 200
    found = [f for f in said["findings"] if f["severity"] == "error"]
    assert any("isolatse" in f["message"] for f in found)
    assert any(fix["edits"] for f in found for fix in f["fixes"])
    assert findings(own) == before
    assert (own.workspace.revision, own.generation) == (revision, generation)
    assert not own.workspace.unsaved(own.root / NAME)


def test_two_pages_at_once_do_not_see_each_other(own):
    other = "lift/lft-130-charge-lead.md"
    text = (own.root / other).read_text(encoding="utf-8")
    doubled = text.replace("number: LFT-130", "number: LFT-120")

    def said(words):
        found = post(own, "/write/check", {"path": other, "text": words})[1]["findings"]
        return [f["message"] for f in found if f["severity"] == "error"]

    assert any("lft-120" in m.lower() for m in said(doubled))
    assert said(text) == []


def test_a_new_name_can_be_checked_before_there_is_a_file(own):
    status, said = post(own, "/write/check", {"path": "lift/new.md", "text": "---\nkind: procedure\n---\n"})
    assert status == 200 and said["findings"]
    assert not any("new.md" in path for path in findings(own))


def test_words_that_may_want_a_mark_are_listed_with_the_source_they_may_mean(own):
    _, text = loaded(own)
    said = post(
        own,
        "/write/check",
        {"path": NAME, "text": text + "\n### More\n\nUnplug the dock from the wall. Wait 5 min.\n"},
    )[1]
    titles = [c["fix"]["title"] for c in said["candidates"]]
    assert "mark it {isolates}`dock supply`" in titles and "mark it {wait}`5 min`" in titles


def test_completion_offers_the_sources_of_the_machine(own):
    _, text = loaded(own)
    changed = text + "\n### More\n\nPull it: {isolates}`"
    line = changed.count("\n") + 1
    column = len(changed.rsplit("\n", 1)[1]) + 1
    status, said = post(
        own, "/write/complete", {"path": NAME, "text": changed, "line": line, "column": column}
    )
    assert status == 200
    assert {"dock supply", "battery", "boom"} <= {o["label"] for o in said["offers"]}
    assert post(own, "/write/complete", {"path": NAME, "text": "", "line": 9, "column": 9})[0] == 200


def test_saving_writes_and_gives_the_next_version(own):
    base, text = loaded(own)
    status, said = post(own, "/write/save", {"path": NAME, "text": text + "More.\n", "base": base})
    assert status == 200
    assert (own.root / NAME).read_text(encoding="utf-8") == text + "More.\n"
    assert loaded(own)[0] == said["hash"] != base
    assert not list((own.root / "lift").glob(".*")), "nothing is left beside the file"
    assert own.workspace.library.sources[own.workspace.shown(own.root / NAME)].text == text + "More.\n"


def test_a_change_of_somebody_else_is_not_overwritten(own):
    base, text = loaded(own)
    theirs = text.replace("LFT-120", "LFT-121", 1)
    (own.root / NAME).write_text(theirs, encoding="utf-8")
    status, said = post(own, "/write/save", {"path": NAME, "text": text + "Mine.\n", "base": base})
    assert status == 409 and said["gone"] is False and said["theirs"] == theirs
    assert {"kind": "mine", "text": "Mine."} in said["difference"]
    assert {"kind": "theirs", "text": "number: LFT-121"} in said["difference"]
    assert (own.root / NAME).read_text(encoding="utf-8") == theirs
    assert post(own, "/write/save", {"path": NAME, "text": "x", "base": said["hash"]})[0] == 200


def test_a_page_hears_of_a_change_before_it_saves(own):
    base, text = loaded(own)
    assert post(own, "/write/check", {"path": NAME, "text": text})[1]["disk"] == base
    (own.root / NAME).write_text(text + "x", encoding="utf-8")
    assert post(own, "/write/check", {"path": NAME, "text": text})[1]["disk"] not in (base, "")
    (own.root / NAME).unlink()
    assert post(own, "/write/check", {"path": NAME, "text": text})[1]["disk"] == ""


def test_a_deleted_file_says_so_and_can_be_written_anew(own):
    base, text = loaded(own)
    (own.root / NAME).unlink()
    status, said = post(own, "/write/save", {"path": NAME, "text": text, "base": base})
    assert status == 409 and said["gone"] is True and said["hash"] == ""
    assert post(own, "/write/save", {"path": NAME, "text": text, "base": ""})[0] == 200
    assert (own.root / NAME).read_text(encoding="utf-8") == text


def test_a_file_that_came_meanwhile_is_not_overwritten(own):
    (own.root / "lift/x.md").write_text("theirs")
    status, said = post(own, "/write/save", {"path": "lift/x.md", "text": "mine", "base": ""})
    assert status == 409 and said["theirs"] == "theirs"


FORMS = [
    (b"a\nb\n", "a\nc\n", b"a\nc\n"),
    (b"a\r\nb\r\n", "a\nc", b"a\r\nc\r\n"),
    (b"\xef\xbb\xbfa\nb", "a\nb\nc\n", b"\xef\xbb\xbfa\nb\nc"),
    (b"a\rb\r", "a\nb\nc\n", b"a\rb\rc\r"),
    (b"a\r\nb\nc\r\n", "a\nb\nnew\nc\n", b"a\r\nb\nnew\nc\r\n"),
    (b"", "a", b"a"),
    (None, "a\n\n\n", b"a\n"),
]


@pytest.mark.parametrize(("before", "text", "after"), FORMS)
def test_a_file_keeps_its_form(before, text, after):
    assert formed(before, text) == after


ROWS = st.lists(st.tuples(st.text("ab ", max_size=3), st.sampled_from(["\n", "\r\n"])), max_size=8)


@settings(max_examples=300)
@given(ROWS, st.booleans(), st.booleans())
def test_a_text_that_is_not_changed_gives_the_same_bytes(rows, bom, end):
    raw = "".join(row + mark for row, mark in rows)
    raw = raw if end else raw.rstrip("\r\n")
    data = (b"\xef\xbb\xbf" if bom else b"") + raw.encode()
    assert formed(data, raw.replace("\r\n", "\n")) == data


@settings(max_examples=200)
@given(st.lists(st.sampled_from("abc"), max_size=20), st.lists(st.sampled_from("abc"), max_size=20))
def test_the_difference_holds_every_row_of_both(old, new):
    rows = difference("\n".join(old), "\n".join(new))
    if any(r["kind"] == "gap" for r in rows):
        return
    assert [r["text"] for r in rows if r["kind"] != "mine"] == (old or [""])
    assert [r["text"] for r in rows if r["kind"] != "theirs"] == (new or [""])


def test_a_file_that_is_not_text_is_refused_in_words(own):
    (own.root / "lift/x.md").write_bytes(b"---\nkind: \xff\n")
    status, page = get(own, "/write/lift/x.md")
    assert status == 422 and "not UTF-8 (line 2)" in page
    assert post(own, "/write/save", {"path": "lift/x.md", "text": "x", "base": "0"})[0] == 422


def test_half_a_character_is_refused(own):
    base, _ = loaded(own)
    status, said = post(own, "/write/save", {"path": NAME, "text": "\ud83d", "base": base})
    assert status == 422 and "half a character" in said["error"]
    assert post(own, "/write/check", {"path": NAME, "text": "\ud83d"})[0] == 200


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(
    st.sampled_from(["/write/check", "/write/complete", "/write/save", "/new", "/new/paste", "/new/number", "/new/equipment", "/new/equipment/ask"]),
    st.recursive(st.none() | st.booleans() | st.integers() | st.text(max_size=9), lambda i: st.lists(i, max_size=3) | st.dictionaries(st.sampled_from(["path", "text", "base", "line", "column", "answers", "number", "plain", "html", "kind"]), i, max_size=5), max_leaves=9),
)  # fmt: skip
def test_nonsense_is_refused_in_words(shared, address, body):
    status, said = post(shared, address, body)
    assert status in (200, 400, 404, 409, 422)
    assert status in (200, 409) or said.get("error") or said.get("questions")


@pytest.fixture(scope="module")
def shared(tmp_path_factory):
    return bench(tmp_path_factory.mktemp("shared"))


def test_a_profile_offers_its_form_and_the_list_shows_all(own):
    assert "/new/equipment/lift/profile.md" in get(own, "/write/lift/profile.md")[1]
    status, page = get(own, "/write")
    assert status == 200 and all(
        f"/write/{n}" in page for n in (NAME, "lift/profile.md", "stretcher/profile.md")
    )


def test_only_our_own_assets_are_given(own):
    assert get(own, "/writing/editor.js")[0] == 200
    assert all(get(own, f"/writing/{n}")[0] == 404 for n in ("../editor.py", "nothing.js", "sub/editor.js"))
