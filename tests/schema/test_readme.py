"""The README of the schemas names every one, under the name it goes by."""

import json
import re

from kilter.cli import parse

from .judges import FOLDER

README = (FOLDER / "README.md").read_text(encoding="utf-8")


def test_every_schema_stands_in_the_table_with_its_name():
    rows = re.findall(r"^\| `([^`]+)` \|.*\| `([^`]+)` \|$", README, re.MULTILINE)
    assert dict(rows) == {
        f.name: json.loads(f.read_text(encoding="utf-8"))["$id"] for f in FOLDER.glob("*.json")
    }


def test_the_settings_shown_are_json_and_name_files_that_are_there():
    shown = json.loads(re.search(r"```json\n(.*?)```", README, re.DOTALL)[1])
    for entry in shown["json.schemas"]:
        assert (FOLDER.parent / entry["url"]).is_file()


def test_the_commands_it_names_are_there():
    named = set(re.findall(r"`kilter (check|states|data|build|schema)\b", README))
    assert {"check", "states", "data"} <= named
    assert parse(["data", "x.md"]).run
