"""A step above the first stage; raised by `read.structure`."""

from kilter.diagnostic import Severity

CODE = "K127"
SEVERITY = Severity.ERROR
