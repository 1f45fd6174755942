"""A `:::` block that does not end; raised by `read.blocks`."""

from kilter.diagnostic import Severity

CODE = "K120"
SEVERITY = Severity.ERROR
