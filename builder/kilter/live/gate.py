"""What is let in: only requests of this server's own pages, and paths that stay where they are."""

from __future__ import annotations

import hmac
import ipaddress
import re
from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import parse_qsl, unquote

from kilter.live.web import Request

MOST_BODY = 8_000_000
"""Bytes: a document of the largest size that is read, four times over for its writing as JSON."""
METHODS = ("GET", "HEAD", "POST")
_HOST = re.compile(r"(\[[0-9a-fA-F:.]+\]|[A-Za-z0-9.-]+)(?::(\d{1,5}))?")


class RefusedError(Exception):
    """A request that is not answered; the message is for whoever sent it."""

    def __init__(self, status: int, message: str) -> None:
        super().__init__(message)
        self.status, self.message = status, message


@dataclass(frozen=True)
class Gate:
    """Whom this server answers."""

    names: frozenset[str]
    """Host names in lower case, IPv6 ones in brackets."""
    port: int
    token: str
    any_address: bool = False
    """Whether every numeric address is a name of this server; a name that is none may be a rebound one."""

    def passed(self, method: str, target: str, headers: Mapping[str, str], body: bytes = b"") -> Request:
        """The request, if it may come in. `headers` have names in lower case. Raises RefusedError."""
        if method not in METHODS:
            raise RefusedError(405, "only GET, HEAD and POST are answered here")
        path, query = split_target(target)
        host = self._host(headers.get("host", ""))
        self._origin(method, headers, host, path)
        if method == "POST" and not hmac.compare_digest(
            headers.get("x-kilter-token", "").encode(), self.token.encode()
        ):
            raise RefusedError(403, "the page is older than the server: load it again")
        return Request(method, path, query, dict(headers), body)

    def _host(self, given: str) -> str:
        found = _HOST.fullmatch(given)
        if found is None or int(found[2] or 80) != self.port or not self._is_ours(found[1].lower()):
            raise RefusedError(421, "this server does not go by that name")
        return given.lower()

    def _is_ours(self, name: str) -> bool:
        if name in self.names:
            return True
        try:
            ipaddress.ip_address(name.strip("[]"))
        except ValueError:
            return False
        return self.any_address

    def _origin(self, method: str, headers: Mapping[str, str], host: str, path: str) -> None:
        """Nothing is answered to scripts, forms and pictures of other sites; a link may lead here."""
        origin, site = headers.get("origin"), headers.get("sec-fetch-site")
        foreign = origin is not None and origin.lower() != f"http://{host}"
        link = method != "POST" and headers.get("sec-fetch-mode") == "navigate" and path != "/events"
        if foreign or (site not in (None, "same-origin", "none") and not link):
            raise RefusedError(403, "only pages of this server may ask that")


def split_target(target: str) -> tuple[str, dict[str, str]]:
    """Path and query of a request line, decoded once. Raises RefusedError for a path that leads elsewhere."""
    raw, _, query = target.partition("?")
    if not raw.startswith("/") or raw.startswith("//"):
        raise RefusedError(400, "the address has to be a path of this server")
    try:
        path = unquote(raw, errors="strict")
        values = dict(parse_qsl(query, keep_blank_values=True, errors="strict", max_num_fields=50))
    except ValueError:
        raise RefusedError(400, "the address can't be read") from None
    if "\\" in path or any(ord(sign) < 32 or ord(sign) == 127 for sign in path):
        raise RefusedError(400, "the address holds a sign that no address has")
    if any(part in ("..", ".") for part in path.split("/")) or "//" in path:
        raise RefusedError(400, "the address leads out of its folder")
    return path, values
