"""Hands stay outside with a guard off, and nothing says why; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K716"
SEVERITY = Severity.ERROR
