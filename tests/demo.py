"""Names of the demo library that tests change, and how they change it."""

from pathlib import Path

TOP = Path(__file__).parent.parent
CHARGE = "procedures/lift/lft-120-not-charged.md"
PROFILE = "procedures/lift/profile.md"
SOUND = sorted(
    f.relative_to(TOP).as_posix()
    for f in TOP.glob("procedures/*/*.md")
    if f.name != "profile.md" and f.parent.name != "training"
)
"""Every procedure and check."""


def edit(library, old, new, path=CHARGE):
    """Other words once in a file; the old ones have to be there."""
    file = library / path
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")
