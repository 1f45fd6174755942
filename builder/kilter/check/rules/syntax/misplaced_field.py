"""A field in the middle of the text; raised by `read.blocks`."""

from kilter.diagnostic import Severity

CODE = "K131"
SEVERITY = Severity.ERROR
