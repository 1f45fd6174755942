"""A file of more bytes than any procedure needs; raised by `source`."""

from kilter.diagnostic import Severity

CODE = "K103"
SEVERITY = Severity.ERROR
