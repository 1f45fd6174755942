"""The machine goes back to service without a guard; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K719"
SEVERITY = Severity.ERROR
