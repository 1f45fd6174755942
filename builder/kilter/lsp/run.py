"""Talks with one editor over this process's own input and output."""

from __future__ import annotations

import logging
import os
import sys

from kilter.lsp.features import make_server


def run() -> int:
    """Serve until the editor hangs up. Nothing but the protocol goes to the output."""
    sys.stdout.flush()
    protocol = os.fdopen(os.dup(1), "wb")
    # whatever prints, be it a library in C, must not get between two messages
    os.dup2(2, 1)
    sys.stdout = sys.stderr
    logging.basicConfig(level=logging.ERROR, format="kilter: %(message)s", stream=sys.stderr)
    # it would write a traceback for every request that is refused with a reason; what fails is in our own log
    logging.getLogger("pygls").setLevel(logging.CRITICAL)
    make_server().start_io(sys.stdin.buffer, protocol)
    return 0
