from django.core.exceptions import NON_FIELD_ERRORS, ValidationError


def attempt(form, action, **what):
    """What the action made; or None if it was refused, and then the form says why."""
    try:
        return action(**what)
    except ValidationError as error:
        form.add_error(None, _told(form, error))
        return None


def _told(form, error: ValidationError) -> ValidationError:
    """Beside its field where the form has one; what it has no field for is told at its head."""
    if not hasattr(error, "error_dict"):
        return error
    said: dict[str, list] = {}
    for name, errors in error.error_dict.items():
        said.setdefault(name if name in form.fields else NON_FIELD_ERRORS, []).extend(errors)
    return ValidationError(said)
