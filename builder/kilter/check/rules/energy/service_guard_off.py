"""The machine goes back to service without a guard. Raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K719"
SEVERITY = Severity.ERROR
