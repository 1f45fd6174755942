"""Lists or quotes nested deeper than is read; raised by `read`."""

from kilter.diagnostic import Severity

CODE = "K136"
SEVERITY = Severity.ERROR
