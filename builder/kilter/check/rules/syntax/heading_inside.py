"""A heading inside a list, quote or block; raised by `read.blocks`."""

from kilter.diagnostic import Severity

CODE = "K125"
SEVERITY = Severity.ERROR
