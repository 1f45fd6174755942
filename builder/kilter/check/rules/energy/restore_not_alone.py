"""Putting back is mixed with clearing, testing or deciding; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K736"
SEVERITY = Severity.ERROR
