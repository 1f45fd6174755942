"""A key that means nothing here; raised by `read.front`."""

from kilter.diagnostic import Severity

CODE = "K110"
SEVERITY = Severity.ERROR
