"""A value that is not what its key takes; raised by `read`."""

from kilter.diagnostic import Severity

CODE = "K111"
SEVERITY = Severity.ERROR
