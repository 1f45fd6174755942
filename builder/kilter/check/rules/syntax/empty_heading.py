"""A heading without words; raised by `read.structure`."""

from kilter.diagnostic import Severity

CODE = "K128"
SEVERITY = Severity.ERROR
