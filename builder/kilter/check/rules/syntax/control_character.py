"""A character that nobody sees and that changes what is read; raised by `source`."""

from kilter.diagnostic import Severity

CODE = "K105"
SEVERITY = Severity.ERROR
