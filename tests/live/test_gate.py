"""What is let in and what is refused, without and with sockets."""

from __future__ import annotations

import http.client
import socket

import pytest
from tests.live.frame import library, opened

from kilter.live.gate import MOST_BODY, Gate, RefusedError, split_target

GATE = Gate(frozenset({"127.0.0.1", "localhost"}), 8400, "secret")
HOST = {"host": "127.0.0.1:8400"}
POST = HOST | {"x-kilter-token": "secret", "origin": "http://127.0.0.1:8400", "sec-fetch-site": "same-origin"}


def status(gate: Gate, method: str, target: str, headers: dict[str, str]) -> int:
    try:
        gate.passed(method, target, headers)
    except RefusedError as refused:
        return refused.status
    return 200


@pytest.mark.parametrize(
    ("method", "target", "headers", "expected"),
    [
        ("GET", "/lft-120.html", HOST, 200),
        ("HEAD", "/", {"host": "localhost:8400"}, 200),
        ("GET", "/", {"host": "LOCALHOST:8400"}, 200),
        ("GET", "/", {"host": "evil.example:8400"}, 421),
        ("GET", "/", {"host": "localhost.evil.example:8400"}, 421),
        ("GET", "/", {"host": "127.0.0.1:8401"}, 421),
        ("GET", "/", {"host": "127.0.0.1"}, 421),
        ("GET", "/", {"host": "192.168.1.2:8400"}, 421),
        ("GET", "/", {"host": "127.0.0.1:8400@evil.example"}, 421),
        ("GET", "/", {}, 421),
        ("PUT", "/", HOST, 405),
        ("OPTIONS", "/", HOST, 405),
        ("POST", "/x", POST, 200),
        ("POST", "/x", POST | {"x-kilter-token": "guess"}, 403),
        ("POST", "/x", {k: v for k, v in POST.items() if k != "x-kilter-token"}, 403),
        ("POST", "/x", POST | {"origin": "https://evil.example"}, 403),
        ("POST", "/x", POST | {"origin": "null"}, 403),
        ("POST", "/x", POST | {"origin": "http://localhost:8400"}, 403),
        ("POST", "/x", POST | {"sec-fetch-site": "cross-site"}, 403),
        ("POST", "/x", POST | {"sec-fetch-site": "same-site", "sec-fetch-mode": "navigate"}, 403),
        ("GET", "/events", HOST | {"sec-fetch-site": "same-origin"}, 200),
        ("GET", "/events", HOST | {"sec-fetch-site": "cross-site"}, 403),
        ("GET", "/events", HOST | {"sec-fetch-site": "cross-site", "sec-fetch-mode": "navigate"}, 403),
        ("GET", "/events", HOST | {"origin": "http://evil.example"}, 403),
        ("GET", "/lft-120.html", HOST | {"sec-fetch-site": "cross-site", "sec-fetch-mode": "navigate"}, 200),
        ("GET", "/records.json", HOST | {"sec-fetch-site": "cross-site", "sec-fetch-mode": "no-cors"}, 403),
    ],
)
def test_whom_the_server_answers(method, target, headers, expected):
    assert status(GATE, method, target, headers) == expected


@pytest.mark.parametrize(
    "target",
    [
        "/../mkdocs.yml", "/%2e%2e/mkdocs.yml", "/a/..%2f..%2fmkdocs.yml", "/..\\mkdocs.yml", "/%5c..%5cx", "//etc/passwd",
        "/a//b", "/%00", "/a%0d%0ab", "http://127.0.0.1:8400/", "*", "", "/%ff", "/./x", "/x?%ff=1", "/%2fetc/passwd",
    ],
)  # fmt: skip
def test_paths_that_lead_elsewhere_are_refused(target):
    with pytest.raises(RefusedError) as refused:
        split_target(target)
    assert refused.value.status == 400


def test_a_path_is_decoded_once():
    assert split_target("/write/lift%20a/%252e.md?line=3") == ("/write/lift a/%2e.md", {"line": "3"})


def test_numbers_as_host_are_ours_only_where_every_address_is_listened_on():
    everywhere = Gate(frozenset({"127.0.0.1"}), 8400, "t", any_address=True)
    assert status(everywhere, "GET", "/", {"host": "192.168.1.2:8400"}) == 200
    assert status(everywhere, "GET", "/", {"host": "[fe80::1]:8400"}) == 200
    assert status(everywhere, "GET", "/", {"host": "rebound.example:8400"}) == 421


@pytest.fixture(scope="module")
def live(tmp_path_factory):
    folder = tmp_path_factory.mktemp("gate")
    library(folder)
    with opened(folder, running=True) as live:
        yield live


def asked(live, method, path, body=None, **headers):
    port = live.server.server_address[1]
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=20)
    try:
        connection.request(method, path, body, {k.replace("_", "-"): v for k, v in headers.items()})
        answer = connection.getresponse()
        return answer.status, dict(answer.getheaders()), answer.read()
    finally:
        connection.close()


def test_every_answer_carries_the_policy_and_is_kept_nowhere(live):
    for path in ("/", "/lft-120.html", "/nothing.html", "/live/live.js", "/../x", "/card/LFT-010"):
        _, headers, _ = asked(live, "GET", path)
        assert headers["Cache-Control"] == "no-store", path
        assert headers["X-Content-Type-Options"] == "nosniff", path
        assert "script-src 'self';" in headers["Content-Security-Policy"], path
        assert "unsafe" not in headers["Content-Security-Policy"], path
        assert "frame-ancestors 'none'" in headers["Content-Security-Policy"], path


def test_refusals_over_a_socket(live):
    assert asked(live, "GET", "/lft-120.html")[0] == 200
    assert asked(live, "GET", "/lft-120.html", Host="evil.example")[0] == 421
    for path in ("/../mkdocs.yml", "/%2e%2e/mkdocs.yml", "/assets/..%2f..%2fkilter.css", "/%00"):
        assert asked(live, "GET", path)[0] == 400, path
    for path in (
        "/assets/nothing.css",
        "/findings/etc/passwd",
        "/findings/mkdocs.yml",
        "/write",
        "/card-page/LFT-010/99",
    ):
        assert asked(live, "GET", path)[0] == 404, path
    assert asked(live, "DELETE", "/lft-120.html")[0] == 405
    assert asked(live, "POST", "/lft-120.html", b"{}")[0] == 403
    port = live.server.server_address[1]
    ours = {"x_kilter_token": live.bench.token, "Origin": f"http://127.0.0.1:{port}"}
    assert asked(live, "POST", "/nothing", b"{}", **ours)[0] == 404
    assert asked(live, "POST", "/nothing", b"", Content_Length=str(MOST_BODY + 1), **ours)[0] == 413
    assert asked(live, "POST", "/nothing", b"", Content_Length="-1", **ours)[0] == 400
    assert asked(live, "GET", "/events", Sec_Fetch_Site="cross-site")[0] == 403


def test_the_token_stands_in_pages_and_a_head_has_no_body(live):
    _, headers, body = asked(live, "GET", "/lft-120.html")
    assert f'name="kilter-token" content="{live.bench.token}"'.encode() in body
    status, head, nothing = asked(live, "HEAD", "/lft-120.html")
    assert (status, head["Content-Length"], nothing) == (200, headers["Content-Length"], b"")


def test_only_this_machine_is_listened_to(live):
    assert live.server.server_address[0] == "127.0.0.1"
    assert live.server.address_family == socket.AF_INET


def test_two_hosts_are_refused(live):
    port = live.server.server_address[1]
    with socket.create_connection(("127.0.0.1", port), timeout=10) as line:
        line.sendall(f"GET / HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nHost: evil.example\r\n\r\n".encode())
        assert line.recv(100).startswith(b"HTTP/1.1 400")
