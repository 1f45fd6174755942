"""Hands stay outside with a guard off, and nothing says why. Raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K716"
SEVERITY = Severity.ERROR
