"""Words of findings on the live pages: code is exactly what has to be written."""

import re

import pytest

from kilter.live.listing import told


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("mark it: {wait}`5 min`; only a marked time counts", ["{wait}`5 min`"]),
        ("{torque}`5 ± 0.5 N·m` or {set}`7 mm`", ["{torque}`5 ± 0.5 N·m`", "{set}`7 mm`"]),
        ("write `{item}`fig-lift 3`` there", ["{item}`fig-lift 3`"]),
        ("possible: `{not-zero}`, `{not-zero source}`, `{not-ok}`", ["{not-zero}", "{not-zero source}", "{not-ok}"]),
        ("`:::{warning}` panel about `mains`", [":::{warning}", "mains"]),
        ("an odd ` alone", []),
    ],
)  # fmt: skip
def test_a_mark_with_its_name_is_one_piece_of_code(words: str, code: list[str]) -> None:
    html = str(told(words))
    assert re.findall("<code>(.*?)</code>", html) == code
    assert re.sub("<[^>]*>|`", "", html).casefold() == f"{words}.".replace("`", "").casefold()
