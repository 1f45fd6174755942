"""The phone's modules in a real browser, loaded one by one from the package, without a server."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from importlib.resources import files
from typing import Any

from tests.publish.site_browser import browser, need_browser

HOST = "http://modules.kilter.test"


@contextlib.contextmanager
def modules(**context: Any) -> Iterator[Any]:
    """A page that can `import` any module of the phone by its address."""
    need_browser()
    with browser() as opened:
        page = opened.new_context(**context).new_page()
        page.route(f"{HOST}/**", lambda route: route.fulfill(**_answer(route.request.url)))
        page.goto(f"{HOST}/")
        yield page


def _answer(address: str) -> dict[str, Any]:
    name = address.removeprefix(f"{HOST}/")
    if not name:
        return {
            "content_type": "text/html",
            "body": "<!doctype html><meta charset=utf-8><title>modules</title>",
        }
    text = files("kilter.publish.site").joinpath("app", name).read_text(encoding="utf-8")
    return {"content_type": "text/javascript; charset=utf-8", "body": text}


def call(page: Any, module: str, body: str, given: Any = None) -> Any:
    """Run `body`, a function of the module's exports and what is given."""
    script = f"async (given) => {{ const m = await import('/{module}'); return ({body})(m, given); }}"
    return page.evaluate(script, given)
