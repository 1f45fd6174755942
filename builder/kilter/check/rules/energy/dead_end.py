"""The text stops, and the procedure does not say how it ends; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K726"
SEVERITY = Severity.ERROR
