from django.db.models import Case, F, When

from restoration.calc import vocabulary


def walking_order(member: str = "") -> list:
    """The order in which one walks a hull: backbone to deck, forward to aft, port first.

    `member` is the way to the member with its double underscore, or nothing for members
    themselves. What has no station or number comes last, on every database.
    """
    kinds = [
        When(**{f"{member}kind": code}, then=n) for n, code in enumerate(vocabulary.member_kinds())
    ]
    return [
        Case(*kinds, default=len(kinds)),
        F(f"{member}station_from").asc(nulls_last=True),
        F(f"{member}number").asc(nulls_last=True),
        f"{member}side",
        f"{member}mark",
    ]
