"""A mark in a heading; raised by `read.structure`."""

from kilter.diagnostic import Severity

CODE = "K129"
SEVERITY = Severity.ERROR
