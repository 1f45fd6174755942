"""How a command ends."""

from __future__ import annotations

OK, FINDINGS, COULD_NOT_RUN = 0, 1, 2
"""Exit codes: no error; errors found in documents; something outside the documents in the way."""


class CouldNotRunError(Exception):
    """Something outside the documents is in the way; the message says what, and how to mend it."""
