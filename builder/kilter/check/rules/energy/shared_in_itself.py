"""A shared stage asks for itself. Raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K728"
SEVERITY = Severity.ERROR
