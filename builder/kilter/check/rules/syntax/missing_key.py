"""A key that has to be there; raised by `read.front`."""

from kilter.diagnostic import Severity

CODE = "K109"
SEVERITY = Severity.ERROR
