"""A word kept for a later version; raised by `read`."""

from kilter.diagnostic import Severity

CODE = "K113"
SEVERITY = Severity.ERROR
