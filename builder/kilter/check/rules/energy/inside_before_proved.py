"""Hands go in before zero was proved; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K703"
SEVERITY = Severity.ERROR
