"""Energised work without a panel of the gravest word; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K707"
SEVERITY = Severity.ERROR
