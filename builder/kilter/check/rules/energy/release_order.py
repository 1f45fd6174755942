"""A store is let out before what it leans on is held; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K711"
SEVERITY = Severity.ERROR
