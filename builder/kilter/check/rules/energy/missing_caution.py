"""Nothing in force warns of a source in reach; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K706"
SEVERITY = Severity.ERROR
