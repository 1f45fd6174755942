"""QR codes in a photo, a scan or a PDF. Foreign files are opened in a process of their own, with limits."""

from __future__ import annotations

import io
import json
import subprocess
import sys
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path
from typing import Any, NamedTuple

from kilter.outcome import CouldNotRunError

MOST_BYTES = 100_000_000
MOST_PIXELS = 120_000_000
MOST_PAGES = 300
SECONDS = 120
MEMORY = 3_000_000_000
"""Bytes of address space; the reader needs about a tenth for a page."""
DPI = 200
PAGE_PIXELS = 30_000_000
"""A larger page is read more coarsely."""
COARSE, ENLARGED = 10_000_000, 3
"""A picture of no more pixels is looked at once more, so many times as wide: from 110 dpi a turned card is read."""
NEEDED = ("zxingcpp", "pypdfium2")


class Seen(NamedTuple):
    """One code in a file."""

    page: int
    """From 1."""
    text: str


class Read(NamedTuple):
    """What a file holds."""

    pages: int
    codes: tuple[Seen, ...]


def read_file(file: Path) -> Read:
    """The codes of a file. Raises CouldNotRunError where it can't be read, with what to do."""
    missing = [name for name in NEEDED if find_spec(name) is None]
    if missing:
        raise CouldNotRunError(
            "reading a picture or PDF needs more packages: pip install 'kilter[scan]'; without them give the text "
            "of the QR code (a telephone shows it) or the 12 characters of the content hash"
        )
    if file.stat().st_size > MOST_BYTES:
        raise CouldNotRunError(f"{file}: more than {MOST_BYTES // 1_000_000} MB; give one page of it")
    try:
        done = subprocess.run(
            [sys.executable, "-m", __name__, str(file.resolve())],
            capture_output=True,
            timeout=SECONDS,
            check=False,
        )
        answer = json.loads(done.stdout) if done.returncode == 0 else {}
    except (subprocess.TimeoutExpired, ValueError):
        answer = {}
    if "trouble" in answer:
        raise CouldNotRunError(f"{file}: {answer['trouble']}")
    if "pages" not in answer:
        raise CouldNotRunError(f"{file}: reading it failed or took too long; try a photo of the code alone")
    return Read(answer["pages"], tuple(Seen(*pair) for pair in answer["codes"]))


def main() -> None:
    """Of the process that opens the file: one JSON object on the standard output."""
    _limit()
    try:
        data = Path(sys.argv[1]).read_bytes()
        pages, seen = _pdf(data) if b"%PDF-" in data[:1024] else (1, list(_picture(data)))
        print(json.dumps({"pages": pages, "codes": seen}))
    except _Trouble as trouble:
        print(json.dumps({"trouble": str(trouble)}))


class _Trouble(Exception):
    """What is wrong with the file, for people."""


def _limit() -> None:
    try:
        import resource
    except ImportError:  # not on Windows; the time limit holds there too
        return
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))


def _picture(data: bytes) -> Iterator[Seen]:
    from PIL import Image

    try:
        with Image.open(io.BytesIO(data)) as picture:
            if picture.width * picture.height > MOST_PIXELS:
                raise _Trouble("too many pixels; take a photo of the code alone")
            grey = picture.convert("L")
            yield from _codes(grey, 1)
            if grey.width * grey.height <= COARSE:
                larger = (grey.width * ENLARGED, grey.height * ENLARGED)
                yield from _codes(grey.resize(larger, Image.Resampling.LANCZOS), 1)
    except Image.DecompressionBombError:
        raise _Trouble("too many pixels; take a photo of the code alone") from None
    except (OSError, SyntaxError, ValueError, MemoryError):
        raise _Trouble("not a picture or PDF that can be read; save it as JPEG, PNG or PDF") from None


def _pdf(data: bytes) -> tuple[int, list[Seen]]:
    import pypdfium2

    try:
        opened = pypdfium2.PdfDocument(data)
        pages = len(opened)
        if pages > MOST_PAGES:
            raise _Trouble(f"{pages} pages; give {MOST_PAGES} at most")
        found = [code for n in range(pages) for code in _page(opened[n], n + 1)]
    except pypdfium2.PdfiumError:
        raise _Trouble("a PDF that is damaged or locked by a password; print or save it anew") from None
    return pages, found


def _page(page: Any, number: int) -> Iterator[Seen]:
    width, height = page.get_size()
    if not (width > 0 and height > 0):
        return
    scale = min(DPI / 72, (PAGE_PIXELS / (width * height)) ** 0.5)
    if min(width, height) * scale < 1:
        return
    bitmap = page.render(scale=scale, grayscale=True)
    yield from _codes(bitmap.to_pil(), number)


def _codes(picture: Any, page: int) -> Iterator[Seen]:
    import zxingcpp

    for code in zxingcpp.read_barcodes(picture):
        if code.text:
            yield Seen(page, code.text)


if __name__ == "__main__":
    main()
