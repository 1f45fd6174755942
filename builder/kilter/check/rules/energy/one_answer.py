"""A decision with one answer; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K733"
SEVERITY = Severity.ERROR
