from django.core.exceptions import ValidationError


def attempt(form, action, **what):
    """What the action made; or None if it was refused, and then the form says why."""
    try:
        return action(**what)
    except ValidationError as error:
        form.add_error(None, error)
        return None
