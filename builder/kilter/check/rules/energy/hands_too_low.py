"""The hands are said to be further away than the step's own effects allow; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K738"
SEVERITY = Severity.ERROR
