"""Name a day as one would in conversation.

Rule    today; the last six days by their weekday; other days by date, with the year where it is another one. A day that
        is still to come is named by date.
"""

from __future__ import annotations

from datetime import date

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
NAMED_BY_WEEKDAY = 6


def day_name(day: date, today: date) -> str:
    """Its name alone: today, Monday, 3 March or 3 March 2025."""
    ago = (today - day).days
    if ago == 0:
        return "today"
    if 0 < ago <= NAMED_BY_WEEKDAY:
        return WEEKDAYS[day.weekday()]
    year = f" {day.year}" if day.year != today.year else ""
    return f"{day.day} {MONTHS[day.month - 1]}{year}"


def on_day(day: date, today: date) -> str:
    """Its name after a verb: today, on Monday, on 3 March."""
    name = day_name(day, today)
    return name if day == today else f"on {name}"
