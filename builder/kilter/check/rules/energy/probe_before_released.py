"""A meter or a release tool goes in beside a live source; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K702"
SEVERITY = Severity.ERROR
