"""Every example of the guide does what stands above it."""

import pytest
from tests.check.pages import report_of
from tests.publish.guide_frame import Fence, fences

from kilter.check.rule import all_rules
from kilter.diagnostic import Severity
from kilter.publish.site.guide import guide_files

EXAMPLES = [f for p in guide_files() for f in fences(p) if f.info[1:2] in (("passes",), ("fails",))]
KNOWN = {"file", "above", "passes", "fails", "profile", "procedure"}


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda e: e.id)
def test_an_example_does_what_stands_above_it(example: Fence, tmp_path):
    found = report_of(example.text, tmp_path).all()
    said = [f"{d.span}: {d.severity}: {d.message} [{d.rule}]" for d in found]
    if example.info[1] == "fails":
        assert len(example.info) == 3 and example.info[2] in all_rules(), "name the rule after `fails`"
        assert example.info[2] in {d.rule for d in found}, said
    else:
        assert [d for d in found if d.severity is Severity.ERROR] == [], said


def test_there_are_examples_of_both_sorts_on_the_pages_that_promise_them():
    for name in ("reference", "traps"):
        kinds = [f.info[1] for f in EXAMPLES if f.page == name]
        assert kinds.count("fails") >= 8 and kinds.count("passes") >= 8, name


def test_every_block_for_the_check_is_of_a_known_sort():
    assert [
        f for p in guide_files() for f in fences(p) if f.info[:1] == ("kilter",) and f.info[1] not in KNOWN
    ] == []
