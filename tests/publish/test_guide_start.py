"""The walk-through of the guide is true: its files and commands, done in order, give what it shows."""

from datetime import date

from tests.publish.guide_frame import commands, fences, matches, page, put, run


def test_the_walk_through_does_what_it_shows(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("NO_COLOR", "1")
    done = 0
    for fence in (*fences(page("start")), *fences(page("reviewer"))):
        if fence.info[:1] == ("kilter",):
            put(fence, tmp_path)
            continue
        assert fence.info == ("console",), fence
        for words, expected in commands(fence.text):
            run(words)
            printed = capsys.readouterr().out.strip("\n").splitlines()
            assert matches(expected, printed), f"{fence.id}: {' '.join(words)}\n" + "\n".join(printed)
            done += 1
    assert done >= 8
    assert (tmp_path / "out" / "cards" / "lmp-110.pdf").read_bytes().startswith(b"%PDF")
    assert f"date: {date.today()}" not in (tmp_path / "procedures" / "lamp" / "profile.md").read_text("utf-8")


def test_a_line_that_was_not_printed_is_seen():
    assert matches(["a", "...", "b"], ["a", "x", "y", "b"]) and matches(["...", "b"], ["b"])
    assert not matches(["a", "b"], ["a", "x", "b"]) and not matches(["a"], ["a", "b"])
