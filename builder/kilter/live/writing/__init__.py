"""Writing in the browser: the editor, and forms for new documents and profiles."""

from __future__ import annotations

from kilter.live.web import Routes
from kilter.live.writing import editor, static
from kilter.live.writing.new import make, number, page, paste
from kilter.live.writing.profiles import ask, form, make_profile

ROUTES: Routes = {
    ("GET", "/write"): editor.page,
    ("GET", "/write/*"): editor.page,
    ("POST", "/write/check"): editor.check,
    ("POST", "/write/complete"): editor.complete,
    ("POST", "/write/save"): editor.store,
    ("GET", "/new"): page,
    ("POST", "/new"): make,
    ("POST", "/new/paste"): paste,
    ("POST", "/new/number"): number,
    ("GET", "/new/equipment"): form,
    ("GET", "/new/equipment/*"): form,
    ("POST", "/new/equipment/ask"): ask,
    ("POST", "/new/equipment"): make_profile,
    ("GET", "/writing/*"): static.asset,
}
