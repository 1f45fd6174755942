"""A decision with one answer. Raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K733"
SEVERITY = Severity.ERROR
