"""Settings of all tests."""

from hypothesis import settings

settings.register_profile("same every time", deadline=None, derandomize=True)
settings.load_profile("same every time")
