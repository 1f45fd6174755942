"""`kilter serve` as it is started and stopped, and what it says when it can't start."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
from contextlib import contextmanager

import pytest
from tests.live.frame import LIFT, edit, library

from kilter.live.serve import names_of


def heeds_interrupts():
    """As in a terminal: a job in the background, which these tests may be, inherits that Ctrl-C is ignored."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


@contextmanager
def command(folder, *arguments):
    started = subprocess.Popen(
        [sys.executable, "-m", "kilter", "serve", *arguments],
        cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env={**os.environ, "PYTHONWARNINGS": ""},
        preexec_fn=heeds_interrupts,
    )  # fmt: skip
    try:
        yield started
    finally:
        started.kill()
        started.communicate()


@pytest.mark.parametrize("sign", [signal.SIGINT, signal.SIGTERM])
def test_it_says_where_and_what_and_stops_when_told(tmp_path, sign):
    procedures = library(tmp_path, training=True)
    edit(procedures / LIFT, ":hands: controls - the lift is only", ":hands: nowhere - the lift is only")
    with command(tmp_path, "--port", "0") as server:
        first = server.stdout.readline()
        assert first.startswith("http://127.0.0.1:") and "12 documents, 1 error in 1 of them" in first
        edit(procedures / LIFT, ":hands: nowhere - ", ":hands: controls - ")
        assert f"{LIFT}: 0 errors, 0 warnings; 1 other document checked again - " in server.stdout.readline()
        server.send_signal(sign)
        out, trouble = server.communicate(timeout=30)
        assert out.endswith("stopped\n") and trouble == "" and server.returncode == 0


def test_listening_to_others_is_warned_of(tmp_path):
    library(tmp_path)
    with command(tmp_path, "--port", "0", "--host", "0.0.0.0") as server:
        assert server.stdout.readline().startswith("warning: whoever can reach 0.0.0.0")
        assert server.stdout.readline().startswith("http://127.0.0.1:")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--library", "nothing"), "mkdocs.yml: not there"),
        (("--port", "70000"), "choose another with --port"),
        (("--host", "no.such.host.invalid"), "choose another with --port or --host"),
    ],
)
def test_what_keeps_it_from_starting_is_said_in_a_line(tmp_path, arguments, said):
    library(tmp_path)
    with command(tmp_path, *arguments) as server:
        _, trouble = server.communicate(timeout=60)
        assert server.returncode == 2 and said in trouble and "Traceback" not in trouble


def test_a_port_that_is_taken_and_settings_that_are_broken(tmp_path):
    library(tmp_path)
    taken = socket.create_server(("127.0.0.1", 0))
    with taken, command(tmp_path, "--port", str(taken.getsockname()[1])) as server:
        _, trouble = server.communicate(timeout=60)
        assert server.returncode == 2 and "in use" in trouble and "Traceback" not in trouble
    (tmp_path / "mkdocs.yml").write_text("site_name: [", encoding="utf-8")
    with command(tmp_path, "--port", "0") as server:
        _, trouble = server.communicate(timeout=60)
        assert server.returncode == 2 and "mkdocs.yml" in trouble and "Traceback" not in trouble


def test_names_by_which_a_browser_may_call():
    assert names_of("127.0.0.1") == {"127.0.0.1", "localhost", "[::1]"}
    assert names_of("192.168.1.7") == {"192.168.1.7"}
    assert socket.gethostname().lower() in names_of("0.0.0.0")
    assert names_of("fe80::1") == {"[fe80::1]"}
