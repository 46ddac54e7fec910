"""What one tap says of a member: nothing found, or not examined and why.

The person sets the classes by that tap, as by any other; what was chosen before is never
overruled by it, and the form then says what does not go together.
"""

from django.http import QueryDict

from restoration.models.finding import Condition

SOUND = "sound"
NOT_EXAMINED = "not_examined"
CLASSES = ("condition", "urgency", "measure")


def is_one_tap(post: QueryDict) -> bool:
    return bool(post.get(SOUND) or post.get(NOT_EXAMINED))


def spelt_out(post: QueryDict) -> QueryDict:
    """The same as if each class had been pressed one by one."""
    if not is_one_tap(post):
        return post
    post = post.copy()
    if post.get(SOUND):
        _fill(post, dict.fromkeys(CLASSES, "0"))
    else:
        _fill(post, {"condition": Condition.NOT_EXAMINED})
        post["not_examined_reason"] = post[NOT_EXAMINED]
    return post


def _fill(post: QueryDict, said: dict) -> None:
    for name, value in said.items():
        if not post.get(name):
            post[name] = value
