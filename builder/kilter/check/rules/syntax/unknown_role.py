"""A mark whose name is not known; raised by `read.inline`."""

from kilter.diagnostic import Severity

CODE = "K114"
SEVERITY = Severity.ERROR
