"""What an address may name: the number of a row, as text until it is known to be one."""

# More figures than any row's number has, and fewer than the database's own limit (2^63).
MOST_FIGURES = 18


def row_number(said: object) -> int | None:
    """The number of a row; None for what cannot be one, such as ², ٣ or five thousand nines."""
    text = str(said)
    good = text.isascii() and text.isdecimal() and len(text) <= MOST_FIGURES
    return int(text) if good else None
