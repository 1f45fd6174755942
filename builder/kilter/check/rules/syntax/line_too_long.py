"""A line of more characters than anybody writes; raised by `source`."""

from kilter.diagnostic import Severity

CODE = "K104"
SEVERITY = Severity.ERROR
