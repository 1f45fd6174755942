"""A comment that allows something, without reason or for no known rule; raised by `read.structure` and `check.run`."""

from kilter.diagnostic import Severity

CODE = "K134"
SEVERITY = Severity.ERROR
