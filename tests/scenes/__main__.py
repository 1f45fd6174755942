"""Make the demo pictures again: `python -m tests.scenes --write [NAME...]`; needs the extra `scenes`.

Without a name all are made. Each line drawing, the places of its items and the figure blocks of the documents are
written; `--photos` also renders the illustrations with light and shade, which needs the package bpy.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

from .blocks import Anchors, documents, synced
from .figures import ANCHORS, FIGURES, LIBRARY, PHOTOS, scene_of


def make(name: str) -> dict[str, Any]:
    """Draw one picture into the library; its places."""
    from .draw import drawn

    made = drawn(scene_of(FIGURES[name]))
    target = LIBRARY / name
    if target.suffix == ".svg":
        target.write_text(made.svg, encoding="utf-8")
    else:
        _pixels(made.svg, target)
    print(name, f"{target.stat().st_size:,} bytes", flush=True)
    return made.facts()


def _pixels(svg: str, target: Path) -> None:
    """The drawing as a PNG of 16 greys."""
    import io

    import cairosvg
    from PIL import Image

    image = Image.open(io.BytesIO(cairosvg.svg2png(bytestring=svg.encode()))).convert("L")
    image.quantize(16).save(target, optimize=True)


def write_blocks(anchors: Anchors) -> None:
    """Put the places into the figure blocks."""
    for file in documents(LIBRARY):
        old = file.read_text(encoding="utf-8")
        new = synced(old, file.parent.relative_to(LIBRARY).as_posix(), anchors)
        if new != old:
            file.write_text(new, encoding="utf-8")
            print("places written into", file.relative_to(LIBRARY))


def main(words: list[str]) -> int:
    """The command."""
    if "--write" not in words:
        print(__doc__)
        return 2
    wanted = [w for w in words if not w.startswith("--")]
    for name in (n for n in FIGURES if not wanted or any(w in n for w in wanted)):
        _keep(name, make(name))
    if "--photos" in words:
        from .photos import render

        for name in (n for n in PHOTOS if not wanted or any(w in n for w in wanted)):
            _keep(name, render(LIBRARY / name, PHOTOS[name]))
    write_blocks(json.loads(ANCHORS.read_text(encoding="utf-8")))
    return 0


def _keep(name: str, facts: dict[str, Any]) -> None:
    """Write one picture's places beside those of the others."""
    anchors: Anchors = json.loads(ANCHORS.read_text(encoding="utf-8")) if ANCHORS.exists() else {}
    anchors[name] = facts
    text = json.dumps(dict(sorted(anchors.items())), indent=1, ensure_ascii=False)
    ANCHORS.write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
