"""Placing by eye: items, areas, arrows and lengths of a figure are pointed at in the picture and written into the file."""

from __future__ import annotations

from kilter.live.placing import page, static, write
from kilter.live.web import Routes

ROUTES: Routes = {
    ("GET", "/place"): page.listing,
    ("GET", "/place/*"): page.listing,
    ("GET", "/place-picture/*"): static.picture,
    ("POST", "/place/state"): write.look,
    ("POST", "/place/save"): write.save_rows,
    ("POST", "/place/number"): write.number,
    ("POST", "/place/undo"): write.undo,
    ("GET", "/placing/*"): static.asset,
}
