"""How a day is written, on pages and on paper."""

from datetime import date

MONTHS = (
    *("January", "February", "March", "April", "May", "June", "July", "August", "September"),
    *("October", "November", "December"),
)


def day_said(day: date) -> str:
    """9 March 2026: in English, whatever the machine's language."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"
