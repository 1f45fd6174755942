"""Bytes that are not UTF-8; raised by `source`."""

from kilter.diagnostic import Severity

CODE = "K102"
SEVERITY = Severity.ERROR
