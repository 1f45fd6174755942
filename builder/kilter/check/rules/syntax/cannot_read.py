"""A file that the computer does not hand out; raised by `source`."""

from kilter.diagnostic import Severity

CODE = "K101"
SEVERITY = Severity.ERROR
