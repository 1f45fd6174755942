"""Markdown in, model out. Everything that can't be read is said, with its place."""
