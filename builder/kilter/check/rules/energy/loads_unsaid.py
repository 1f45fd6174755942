"""The words load a store, but no mark says so; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K744"
SEVERITY = Severity.HINT
