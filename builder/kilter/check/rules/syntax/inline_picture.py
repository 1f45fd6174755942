"""A picture inside a sentence; raised by `read.inline`."""

from kilter.diagnostic import Severity

CODE = "K123"
SEVERITY = Severity.ERROR
