"""How close the drawing is looked at: links that need no script and keep all else as it is."""

SIZES = {"1": "whole sheet", "2": "closer", "3": "closer still", "4": "closest"}


def size_of(request) -> str:
    """The style sheet's class for the size asked for."""
    return f"zoom-{_now(request)}"


def sizes(request, member: int | None = None) -> list[dict]:
    """A link a size; a closer one leads to the member, or to her bow."""
    place = "hull-outline" if member is None else f"m{member}"
    found = []
    for size, words in SIZES.items():
        asked = request.GET.copy()
        asked["zoom"] = size
        anchor = "drawing" if size == "1" else place
        href = f"?{asked.urlencode()}#{anchor}"
        found.append({"href": href, "words": words, "now": size == _now(request)})
    return found


def _now(request) -> str:
    asked = request.GET.get("zoom", "1")
    return asked if asked in SIZES else "1"
