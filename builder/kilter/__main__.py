"""`python -m kilter` is the same as the `kilter` command."""

from kilter.cli import run

run()
