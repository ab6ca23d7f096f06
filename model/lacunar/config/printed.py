"""The day that sheets bear, so that an old one is seen to be old."""

import os
from datetime import UTC, date, datetime
from typing import Final

from lacunar.config.config import Config

BLANK: Final = "_" * 14
"""To be written in by hand."""


def printed_on(config: Config) -> date | None:
    """The file's own date, else that of SOURCE_DATE_EPOCH, else none: the same files come out on every day.

    Source: the variable's meaning, reproducible-builds.org, specification of SOURCE_DATE_EPOCH.
    """
    seconds = os.environ.get("SOURCE_DATE_EPOCH", "")
    if config.date is not None or not (seconds.isascii() and seconds.isdigit()):
        return config.date
    try:
        return datetime.fromtimestamp(int(seconds), UTC).date()
    except (OverflowError, ValueError, OSError):
        return None


def printed_day(config: Config) -> str:
    """The same in words, "14 March 2026", or a blank."""
    day = printed_on(config)
    return BLANK if day is None else told_day(day)


def told_day(day: date) -> str:
    """A day in words; the same in every locale."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


MONTHS: Final = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
