"""The steps go round for ever; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K727"
SEVERITY = Severity.ERROR
