"""A panel or figure inside another block; raised by `read.blocks`."""

from kilter.diagnostic import Severity

CODE = "K121"
SEVERITY = Severity.ERROR
