"""A feed and what it feeds are put back in one step; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K737"
SEVERITY = Severity.ERROR
