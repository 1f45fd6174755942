"""A step acts on a source that it says is out of reach; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K735"
SEVERITY = Severity.ERROR
