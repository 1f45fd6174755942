"""The modules join into one script, and the plan stands in the page as data."""

import json
import re

import pytest
from tests.publish.site_frame import Read, build_site, small_library

from kilter.publish.run.serials import serial_range
from kilter.publish.site import bundle as joining
from kilter.publish.site.bundle import BundleError, bundle, modules

ENTRIES = ("main.js", "runend.js", "shelfpage.js", "quizpage.js")
"""Scripts of pages; each is one file."""


def test_every_module_is_in_and_nothing_of_modules_is_left():
    texts = [bundle(entry).decode() for entry in ENTRIES]
    for text in texts:
        assert text.startswith('(() => {\n"use strict";')
        assert not re.search(r"^\s*(import|export)\b", text, re.MULTILINE)
    for name in modules():
        first = re.search(
            r"^export (?:async )?(?:function|class|const) (\w+)", joining._text(name), re.MULTILINE
        )
        assert first or name in ENTRIES, f"{name} exports nothing"
        if first is None:
            continue
        inside = re.compile(rf"\b(?:function|class|const) {first[1]}\b")
        assert any(inside.search(text) for text in texts), f"{name} is asked for by no other"


@pytest.mark.parametrize(
    ("files", "told"),
    [
        ({"a.js": 'import {x} from "./b.js";\n', "b.js": "export const y = 1;\n"}, "does not have"),
        ({"a.js": 'import {x} from "./b.js";\nconst z = 1;\n', "b.js": "export const x = 1, z = 2;\n"}, "`z` stands in"),
        ({"a.js": 'import {x} from "./b.js";\n', "b.js": 'import {a} from "./a.js";\nexport const x = 1;\n'}, "needs itself"),
        ({"a.js": "import * as b from './b.js';\n"}, "left over"),
    ],
)  # fmt: skip
def test_what_can_not_be_joined_is_refused(monkeypatch, files, told):
    monkeypatch.setattr(joining, "_text", lambda name: files[name])
    joining.bundle.cache_clear()
    with pytest.raises(BundleError, match=told):
        joining.bundle("a.js")
    joining.bundle.cache_clear()


@pytest.mark.parametrize(
    ("text", "range_"),
    [
        ("serial 2000-2999, with scale", ("2000", "2999")),
        ("Serial numbers 0400 and above, roller lever switch", ("0400", "")),
        ("serials up to 1999", ("", "1999")),
        ("serial below 500", ("", "499")),
        ("with the wide boom", None),
        ("serial 900–100", None),
        ("built after 2019", None),
    ],
)
def test_ranges_of_serial_numbers(text, range_):
    assert serial_range(text) == range_


def test_the_plan_is_data_that_nothing_can_break_out_of(tmp_path):
    folder = small_library(tmp_path)
    file = folder / "trl-110.md"
    text = file.read_text(encoding="utf-8").replace("title: ", 'title: "</script><b>" # ', 1)
    assert "</script><b>" in text
    text = re.sub(r"^# .*$", "# \\\\</script>\\\\<b\\\\>", text, count=1, flags=re.MULTILINE)
    file.write_text(text, encoding="utf-8")
    page = (build_site(tmp_path, tmp_path / "site") / "trl-110.html").read_text(encoding="utf-8")
    island = re.search(r'<script type="application/json" id="plan">(.*?)</script>', page, re.DOTALL)
    assert island
    plan = json.loads(island[1])
    assert plan["title"] == "</script><b>"
    assert "b" not in [tag for tag, attributes in Read(page).tags if attributes.get("id") == ""]
    assert {step["anchor"] for step in plan["steps"]} <= set(re.findall(r'<section [^>]*id="([^"]+)"', page))
