"""Hands or a meter go in while every guard is on; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K717"
SEVERITY = Severity.ERROR
