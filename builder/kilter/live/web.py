"""Requests, answers and routes of the live server, with no socket in sight."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from kilter.live.bench import Bench


@dataclass(frozen=True)
class Request:
    """One request that has passed the gate (host, origin and path are sound)."""

    method: str
    path: str
    """Decoded, begins with a slash, holds no `..`."""
    query: dict[str, str] = field(default_factory=dict)
    headers: dict[str, str] = field(default_factory=dict)
    """Names in lower case."""
    body: bytes = b""

    def json(self) -> Any:
        """The body as JSON; raises ValueError."""
        return json.loads(self.body.decode("utf-8"))


@dataclass(frozen=True)
class Response:
    """What goes back; headers of policy and caching are added by the server."""

    body: bytes
    type: str = "text/html; charset=utf-8"
    status: int = 200
    headers: dict[str, str] = field(default_factory=dict)


def answer_json(value: Any, status: int = 200) -> Response:
    """A value as JSON."""
    return Response(json.dumps(value, ensure_ascii=False).encode(), "application/json; charset=utf-8", status)


Handler = Callable[["Bench", Request], Response]

Routes = dict[tuple[str, str], Handler]
"""Handlers by method and path. A path that ends in `/*` takes everything below it."""
