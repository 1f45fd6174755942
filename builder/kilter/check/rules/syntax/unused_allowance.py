"""A comment that allows what does not happen; raised by `check.run`."""

from kilter.diagnostic import Severity

CODE = "K135"
SEVERITY = Severity.WARNING
