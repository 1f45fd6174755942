"""A mark that holds nothing; raised by `read.inline`."""

from kilter.diagnostic import Severity

CODE = "K118"
SEVERITY = Severity.ERROR
