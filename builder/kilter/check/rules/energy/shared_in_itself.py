"""A shared stage asks for itself; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K728"
SEVERITY = Severity.ERROR
