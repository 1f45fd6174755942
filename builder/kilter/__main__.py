"""`python -m kilter` is the same as the `kilter` command."""

from kilter.cli import main

raise SystemExit(main())
