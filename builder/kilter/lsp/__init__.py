"""The language server: the protocol around `kilter.assist`."""
