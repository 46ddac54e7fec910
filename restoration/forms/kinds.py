"""The kinds of member, to choose from: under their groups, as in the member table."""

from restoration.calc.groups import kinds_by_group


def grouped_choices() -> list:
    groups = kinds_by_group().items()
    listed = [(title, [(kind.code, kind.term) for kind in kinds]) for title, kinds in groups]
    return [("", "choose a kind"), *listed]
