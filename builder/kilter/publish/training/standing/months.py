"""Days by the calendar."""

from __future__ import annotations

import calendar
from datetime import date


def months_later(day: date, months: int) -> date:
    """The same day of a later month; the last of it where it has no such day (29 Feb + 12 = 28 Feb)."""
    count = day.year * 12 + day.month - 1 + months
    year, month = divmod(count, 12)
    return date(year, month + 1, min(day.day, calendar.monthrange(year, month + 1)[1]))
