"""The ways through are more than can be followed; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K730"
SEVERITY = Severity.ERROR
