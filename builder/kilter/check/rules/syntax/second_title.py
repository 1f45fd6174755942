"""A second H1; raised by `read.structure`."""

from kilter.diagnostic import Severity

CODE = "K126"
SEVERITY = Severity.ERROR
