"""A wait, release or proof written before its source is cut off. Raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K745"
SEVERITY = Severity.ERROR
