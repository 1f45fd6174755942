"""Stored energy is let out before its feed is cut; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K709"
SEVERITY = Severity.ERROR
