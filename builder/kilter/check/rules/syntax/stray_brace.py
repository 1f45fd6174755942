"""Braces that mean nothing where they stand; raised by `read`."""

from kilter.diagnostic import Severity

CODE = "K119"
SEVERITY = Severity.ERROR
