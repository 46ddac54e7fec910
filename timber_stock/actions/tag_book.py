from django.db import connection

# Any number that nothing else here locks.
TAG_BOOK = 7_231_640


def hold_tag_book() -> None:
    """From here to the end of the transaction nobody else gives out a tag.

    So a tag that was found free among logs and boards alike is still free when it is written.
    Call it first, before any row is locked, and two people never wait for each other. SQLite
    needs nothing: its transactions begin by taking the only pen.
    """
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute("SELECT pg_advisory_xact_lock(%s)", [TAG_BOOK])
