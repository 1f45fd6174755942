"""A `:::` block whose name is not known; raised by `read.blocks`."""

from kilter.diagnostic import Severity

CODE = "K115"
SEVERITY = Severity.ERROR
