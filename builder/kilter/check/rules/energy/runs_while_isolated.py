"""The step needs power that is locked off; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K708"
SEVERITY = Severity.ERROR
