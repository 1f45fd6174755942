"""The records that search works on."""

from __future__ import annotations

import gzip
import json
from collections.abc import Sequence
from pathlib import Path

from tests.publish.site_frame import guide_example, small_library

from kilter.publish.prepare import prepare
from kilter.publish.site.recordfiles import (
    ADDRESS,
    LATER,
    PART_SCHEMA,
    SCHEMA,
    as_script,
    fronted,
    records_files,
)
from kilter.publish.site.records import ROW


def records_file(views: object, profiles: object) -> bytes:
    (data,) = records_files(views, profiles).values()
    return data


def file_of(procedures: Path) -> dict[str, object]:
    ready = prepare(procedures)
    return json.loads(records_file(ready.views, ready.profiles))


def unfronted(column: list[str]) -> list[str]:
    found, before = [], ""
    for each in column:
        found.append(before := before[: int(each[0], 36)] + each[1:])
    return found


def test_numbers_are_written_by_what_they_share():
    given = ["BEN-00098", "BEN-00099", "BEN-00100", "", "LFT-1", "LFT-1", "x" * 50, "x" * 51]
    found = list(fronted(given))
    assert found[:6] == ["0BEN-00098", "89", "6100", "0", "0LFT-1", "5"]
    assert unfronted(found) == given


def rows_of(
    file: dict[str, object], columns: list[list[object]], names: Sequence[str]
) -> list[dict[str, object]]:
    """The rows of some columns with what they point at put in place."""
    texts, lists = file["texts"], file["lists"]

    def said(name: str, cell: object) -> object:
        if name in ("equipment", "task"):
            return file[name][cell]
        if name in ("symptoms", "parts", "tools"):
            return [texts[n] for n in lists[cell]]
        if name == "steps":
            return [[texts[n] for n in lists[stage]] for stage in lists[cell]]
        if name == "values":
            flat = lists[cell]
            return [(flat[n], file["values"][flat[n + 1]]) for n in range(0, len(flat), 2)]
        return cell

    columns = [unfronted(c) if name == "number" else c for name, c in zip(names, columns, strict=True)]
    return [{n: said(n, c) for n, c in zip(names, row, strict=True)} for row in zip(*columns, strict=True)]


def records(procedures: Path) -> list[dict[str, object]]:
    file = file_of(procedures)
    return rows_of(file, file["columns"], ROW)


def test_a_record_holds_what_people_search_by(tmp_path: Path):
    document, machine = records(small_library(tmp_path))
    values = document.pop("values")
    steps = document.pop("steps")
    assert document == {
        "address": "",
        "number": "TRL-110",
        "title": "Replace the door switch",
        "revision": "A",
        "equipment": "Blanket trolley Larch 1",
        "task": "Replacement",
        "symptoms": ["does not heat with the door shut", "cold, no heat"],
        "numbers": ["TR-204"],
        "parts": ["door switch"],
        "tools": ["voltmeter", "torque screwdriver"],
    }
    assert "Prove it dead" in [title for stage in steps for title in stage]
    place, value = next(each for each in values if each[1][1] == "N·m")
    assert value == ["0.8 ± 0.1 N·m", "N·m", 0.8, 0.7, 0.9, "lbf·in", 7.1, 6.3, 7.9]
    assert place == "2.1"
    assert (machine["address"], machine["task"]) == ("equipment-larch-1.html", "Equipment")


def test_the_file_names_its_form_and_its_units(tmp_path: Path):
    file = file_of(small_library(tmp_path))
    assert (file["schema"], file["language"], file["parts"]) == (SCHEMA, "en", [])
    assert file["units"]["Nm"] == file["units"]["N·m"] == ["N·m", "torque", 1.0, 0.0, 0]
    assert file["units"]["ft-lb"][4] == 1


def test_a_stick_gets_the_same_as_a_script(tmp_path: Path):
    ready = prepare(small_library(tmp_path))
    data = records_file(ready.views, ready.profiles)
    address, script = as_script("records/larch-1.json", data)
    assert address == "records/larch-1.js"
    given = script.decode().removeprefix('kilterRecords("records/larch-1.json",').removesuffix(");\n")
    assert json.loads(given) == json.loads(data)


def test_a_large_library_is_split_by_equipment_and_nothing_is_left_out(tmp_path: Path):
    ready = prepare(small_library(tmp_path, copies=2))
    whole = json.loads(records_file(ready.views, ready.profiles))
    split = {a: json.loads(d) for a, d in records_files(ready.views, ready.profiles, most=100).items()}
    assert list(split) == [ADDRESS, "records/larch-1.json"]
    first, part = split[ADDRESS], split["records/larch-1.json"]
    assert first["parts"] == [["records/larch-1.json", 0, part["revision"]]]
    assert part["schema"] == PART_SCHEMA
    assert first["units"] == whole["units"], "a value is known as one before its machine's file has come"
    documents = [row for row in rows_of(whole, whole["columns"], ROW) if row["number"]]
    begun = [row for row in rows_of(first, first["columns"], ROW) if row["number"]]
    later = rows_of(part, part["columns"], ROW[LATER:])
    assert [each | rest for each, rest in zip(begun, later, strict=True)] == documents
    assert all(not row[name] for row in begun for name in ROW[LATER:])
    assert rows_of(first, first["columns"], ROW)[-1] == rows_of(whole, whole["columns"], ROW)[-1]


def test_error_codes_in_symptoms_count_as_numbers(tmp_path: Path):
    procedures = small_library(tmp_path)
    text = guide_example("procedure").replace("does not heat with the door shut", "display shows E57 or H-12")
    (procedures / "trl-110.md").write_text(text, encoding="utf-8")
    assert records(procedures)[0]["numbers"] == ["TR-204", "E57", "H-12"]


def test_records_stay_small(tmp_path: Path):
    """At most 120 bytes a procedure after gzip: the budget of the notes."""
    ready = prepare(small_library(tmp_path, copies=100))
    assert len(ready.views) == 100
    assert len(gzip.compress(records_file(ready.views, ready.profiles))) <= 120 * 100
