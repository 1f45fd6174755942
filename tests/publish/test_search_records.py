"""The records that search works on."""

from __future__ import annotations

import gzip
import json
from pathlib import Path

from tests.publish.site_frame import guide_example, small_library

from kilter.publish.prepare import prepare
from kilter.publish.site.records import records_file


def records(procedures: Path) -> list[dict[str, object]]:
    ready = prepare(procedures)
    return json.loads(records_file(ready.views, ready.profiles))


def test_a_record_holds_what_people_search_by(tmp_path: Path):
    document, machine = records(small_library(tmp_path))
    assert document == {
        "address": "trl-110.html",
        "number": "TRL-110",
        "title": "Replace the door switch",
        "revision": "A",
        "equipment": "Blanket trolley Larch 1",
        "task": "Replacement",
        "symptoms": ["does not heat with the door shut"],
        "synonyms": ["cold, no heat"],
        "numbers": ["TR-204"],
        "parts": ["door switch"],
        "tools": ["voltmeter", "torque screwdriver"],
    }
    assert machine["address"] == "equipment-larch-1.html"
    assert machine["task"] == "Equipment"


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
