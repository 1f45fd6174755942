"""A row of a table with more cells than its header; raised by `read.blocks`."""

from kilter.diagnostic import Severity

CODE = "K138"
SEVERITY = Severity.ERROR
