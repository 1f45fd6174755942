"""A step sends you to a shared stage and does something itself; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K729"
SEVERITY = Severity.ERROR
