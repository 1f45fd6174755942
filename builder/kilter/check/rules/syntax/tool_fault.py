"""A fault of Kilter itself; raised by the check, so that nothing unchecked is accepted."""

from kilter.diagnostic import Severity

CODE = "K199"
SEVERITY = Severity.ERROR
