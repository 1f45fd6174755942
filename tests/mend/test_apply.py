"""Edits are put in where they are said to be, and nothing else of a file changes by a byte."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kilter.diagnostic import Edit, Fix
from kilter.mend.apply import apply
from kilter.mend.difference import difference
from kilter.source import Source, Span, decode


def fix(text: str, start: int, end: int, new: str) -> Fix:
    return Fix("x", (Edit(Source("a.md", text).span(start, end), new),))


def one(raw: str, *fixes: Fix) -> str:
    return apply({"a.md": raw}, fixes).texts["a.md"]


def test_an_insertion_a_replacement_and_a_deletion() -> None:
    text = "one two three\n"
    assert one(text, fix(text, 4, 7, "2"), fix(text, 0, 0, "> "), fix(text, 7, 13, "")) == "> one 2\n"


def test_of_two_that_overlap_the_first_is_made_and_the_other_waits() -> None:
    text = "abcdef"
    first, second, third = fix(text, 1, 4, "X"), fix(text, 3, 5, "Y"), fix(text, 5, 6, "Z")
    done = apply({"a.md": text}, (first, second, third))
    assert done.texts["a.md"] == "aXeZ"
    assert (done.made, done.waiting) == ((first, third), (second,))


def test_two_insertions_at_one_place_have_no_order_so_one_waits() -> None:
    text = "ab"
    done = apply({"a.md": text}, (fix(text, 1, 1, "X"), fix(text, 1, 1, "Y")))
    assert (done.texts["a.md"], len(done.waiting)) == ("aXb", 1)


def test_the_edits_of_a_fix_are_made_together_or_not_at_all() -> None:
    text = "one\ntwo\n"
    here, beyond = Span("a.md", 1, 1, 1, 4), Span("a.md", 9, 1, 9, 1)
    done = apply({"a.md": text}, (Fix("x", (Edit(here, "1"), Edit(beyond, "9"))),))
    assert (done.texts["a.md"], len(done.waiting)) == (text, 1)
    other = apply({"a.md": text}, (Fix("x", (Edit(here, "1"), Edit(Span("b.md", 1, 1, 1, 1), "9"))),))
    assert (other.texts["a.md"], len(other.waiting)) == (text, 1)


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_new_rows_end_like_those_around_them(end: str) -> None:
    text = "one\ntwo\n"
    assert one(text.replace("\n", end), fix(text, 3, 3, "\nmore")) == f"one{end}more{end}two{end}"


def test_in_a_mixed_file_each_place_keeps_its_own_line_ends() -> None:
    raw, text = "one\r\ntwo\nthree\r\n", "one\ntwo\nthree\n"
    assert one(raw, fix(text, 7, 7, "\nmore")) == "one\r\ntwo\nmore\nthree\r\n"
    assert one(raw, fix(text, 3, 3, "\nmore")) == "one\r\nmore\r\ntwo\nthree\r\n"


def test_a_deleted_row_takes_its_own_line_end() -> None:
    raw, text = "one\ntwo\r\nthree", "one\ntwo\nthree"
    assert one(raw, fix(text, 4, 8, "")) == "one\nthree"


def test_the_byte_order_mark_stays_and_is_not_counted() -> None:
    assert one("\ufeffone\n", fix("one\n", 0, 3, "two")) == "\ufefftwo\n"
    assert one("\ufeffone\n", fix("one\n", 0, 0, "x")) == "\ufeffxone\n"


ROW = st.text(st.sampled_from("ab é\U0001f527`{}"), max_size=6)
ENDS = st.sampled_from(["\n", "\r\n", "\r"])


@given(st.lists(st.tuples(ROW, ENDS), min_size=1, max_size=8), ROW, st.booleans(), st.data())
def test_what_is_not_edited_stays_byte_for_byte(
    rows: list[tuple[str, str]], last: str, marked: bool, data: st.DataObject
) -> None:
    mark = "\ufeff" if marked else ""
    raw = mark + "".join(row + end for row, end in rows) + last
    # a row that ends in CR before an empty row that ends in LF would be one CRLF
    text = decode("a.md", raw.encode()).text
    start = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(start, len(text)))
    new = data.draw(st.sampled_from(["", "x", "x\ny", "\n"]))
    made = one(raw, fix(text, start, end, new))
    assert decode("a.md", made.encode()).text.removeprefix("\ufeff") == text[:start] + new + text[end:]
    before = raw_length(raw, mark, text, start)
    after = raw_length(raw, mark, text, end)
    assert made.startswith(raw[:before])
    assert made.endswith(raw[after:])


def raw_length(raw: str, mark: str, text: str, offset: int) -> int:
    """How much of the raw text stands before an offset into the plain one, counted sign by sign."""
    at, done = len(mark), 0
    while done < offset:
        at += 2 if raw.startswith("\r\n", at) else 1
        done += 1
    return at


def test_the_difference_shows_only_what_changes() -> None:
    shown = difference("a.md", "\ufeffone\r\ntwo\r\nthree", "\ufeffone\r\n2\r\nthree")
    assert shown.splitlines() == [
        "--- a.md",
        "+++ a.md (mended)",
        "@@ -1,3 +1,3 @@",
        " one",
        "-two",
        "+2",
        " three",
        "\\ no line end at the end of the file",
    ]
    assert difference("a.md", "one\n", "one\n") == ""


def test_the_difference_writes_out_what_nobody_sees() -> None:
    assert "-one<U+202E>" in difference("a.md", "one\u202e\n", "one\n").splitlines()
    assert "-one<U+001B>[2J" in difference("a.md", "one\x1b[2J\n", "one\n").splitlines()
