"""Where the files of the cards' typeface stand; which characters they have is in `compute/typeface.py`."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import fontpkg

FAMILY = "Atkinson Hyperlegible"


@lru_cache(maxsize=1)
def font_folder() -> Path:
    """Where the font's files stand."""
    return Path(fontpkg.path(FAMILY.lower().replace(" ", "-"))).parent
