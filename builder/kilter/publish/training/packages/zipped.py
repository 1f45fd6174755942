"""A zip that comes out the same: order, dates, rights and way of packing are fixed."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping

DATE = (1980, 1, 1, 0, 0, 0)
"""The earliest that a zip can tell."""


def zipped(files: Mapping[str, bytes], first: str = "") -> bytes:
    """`first` leads, the others follow by name. Nothing is packed smaller: packers differ between versions."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_STORED) as archive:
        for name in sorted(files, key=lambda n: (n != first, n)):
            entry = zipfile.ZipInfo(name, DATE)
            entry.create_system = 3
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, files[name])
    return stream.getvalue()
