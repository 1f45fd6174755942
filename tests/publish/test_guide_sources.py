"""The sources that the guide shows are sound: set into its own profile, nothing is wrong with them."""

import re
from importlib.resources import files

from kilter.check.run import check_library
from kilter.diagnostic import Severity
from kilter.model.library import Library
from kilter.read.document import read_bytes

GUIDE = files("kilter.publish.site").joinpath("pages/guide.md").read_text(encoding="utf-8")


def test_the_sources_shown_in_the_guide_pass(tmp_path):
    profile = re.search(r"```kilter profile\n(.*?)```", GUIDE, re.S)[1]
    shown = re.search(r"```yaml\nsources:\n(.*?)```", GUIDE, re.S)[1]
    kinds = set(re.findall(r"kind: (\w+)", shown))
    assert {"heat", "pressure", "spring", "gravity"} == kinds
    none = re.search(r"none: \[(.*?)\]", profile)[1]
    left = ", ".join(k for k in none.split(", ") if k not in kinds)
    text = profile.replace("sources:\n", "sources:\n" + shown, 1).replace(
        f"none: [{none}]", f"none: [{left}]"
    )
    text = text.replace(
        "zones: {back: [mains]}", "zones: {back: [mains, plate heat, water, lid spring, deck]}"
    )
    library = Library(tmp_path)
    library.add(read_bytes("profile.md", text.encode()))
    found = check_library(library).all()
    assert [f for f in found if f.severity is not Severity.HINT] == []
