"""A blank of a new file that was not filled in; raised by `read`."""

from kilter.diagnostic import Severity

CODE = "K137"
SEVERITY = Severity.ERROR
