"""Anchors, aliases and tags of YAML; raised by `read.yaml_front`."""

from kilter.diagnostic import Severity

CODE = "K108"
SEVERITY = Severity.ERROR
