"""The page to print: structure by a second tool, many entries, words of every kind of entry."""

import subprocess

import pdfua
import pytest
from tests.publish.cards_frame import poppler
from tests.records import frame

from kilter.records.page import page, page_data, shown


def long_run():
    step = frame.steps_with_readings()[0]
    data = frame.run(upto=1)
    kinds = [
        ("caution", {"stage": "x", "words": "0" * 12}), ("done", {}), ("answer", {"index": "0", "text": "Both rails are up", "failed": "mains, deck", "notOk": ""}),
        ("answer", {"index": "0", "text": "It rocks", "failed": "", "notOk": "yes"}), ("withdrawn", {"entry": "4"}),
        ("waiting", {"index": "0", "wanted": "300"}), ("wait", {"index": "0", "wanted": "300", "waited": "301"}), ("hold", {"initials": "CD"}),
        ("away", {}), ("back", {"missing": ""}), ("stop", {}), ("back", {"missing": "deck"}), ("idle", {}), ("back", {"missing": ""}),
        ("safe", {"names": "deck"}), ("handover", {"to": "EF", "locksOff": "mains", "locksOn": ""}), ("revision", {"inForce": "C", "choice": "go on"}), ("note", {"text": "Screw #4 [was] *loose* $x$"}),
    ]  # fmt: skip
    for kind, more in kinds * 5:
        data["entries"].append(frame.entry(len(data["entries"]) + 1, kind, step, **more))
    for _ in range(40):
        n = len(data["entries"]) + 1
        data["entries"].append(frame.reading(n, step, step["readings"][0], "7.2"))
    return frame.record(frame.sealed(data))


@pytest.mark.parametrize(
    "record",
    [frame.record(frame.run()), frame.record(frame.remark()), long_run()],
    ids=["run", "remark", "long"],
)
def test_a_second_tool_finds_nothing(tmp_path, record):
    file = tmp_path / "page.pdf"
    file.write_bytes(page(record))
    assert [str(f) for f in pdfua.validate(str(file)).findings] == []


def test_every_kind_of_entry_has_its_words():
    words = [entry["words"] for entry in page_data(long_run())["entries"]]
    for said in (
        "answered: Both rails are up; not at zero: mains, deck", "answered: It rocks; not sound", "entry 4 was answered wrongly", "waited 301 s of 300 s",
        "second person: CD", "back; lock missing: deck", "made safe again: deck", "handed over to EF; locks off: mains; locks on: none", "revision C in force: go on",
        "called away: proofs of zero are void", "Screw #4 [was] *loose* $x$",
    ):  # fmt: skip
        assert said in words


def test_a_long_record_is_whole_on_paper(tmp_path):
    tool = poppler("pdftotext")
    (tmp_path / "page.pdf").write_bytes(page(long_run()))
    text = subprocess.run(
        [tool, "-layout", str(tmp_path / "page.pdf"), "-"], capture_output=True, text=True, check=True
    ).stdout
    assert text.count("Screw #4 [was] *loose* $x$") == 5
    assert text.count("7.2 ± 0.02 mm") == 40
    pages = text.count("\f")
    assert pages > 2 and f"Page {pages} of {pages}" in text
    assert "Not ended: this is how the work stood" in text


def test_signs_that_turn_the_order_of_reading_are_left_out():
    assert shown("a\u202eb\u2066c\u0007d") == "abcd"
