"""Names of what the monitors meet; each is one kind of obligation."""

from __future__ import annotations

from enum import IntEnum


class M(IntEnum):
    """Obligations that were not met, except NEEDED, which says that an exemption is needed."""

    LEVEL = 1
    """Detail: the level it has."""
    CAUTION = 2
    """Detail: the bits of the cautions in force."""
    DANGER = 3
    RUNS = 4
    RELEASE = 5
    PROVE = 6
    RELEASE_ORDER = 7
    RESTORE_ORDER = 8
    RESTORE_HOLD = 9
    AFTER = 10
    """As LEVEL, after what the step itself loads or restores."""
    SERVICE_HELD = 11
    FOUND_HELD = 12
    TAGGED_NOT_HELD = 13
    NEEDED = 14
    GUARD_OFF = 20
    """Detail: the guards that are off."""
    GUARDS_ON = 21
    RESTORE_GUARD = 22
    SERVICE_GUARD = 23
    FOUND_GUARD = 24
    RESTORE_CLEAR = 30
    SERVICE_UNTESTED = 31
    """Detail: the tests that are missing."""
    FOUND_TOUCHED = 32
