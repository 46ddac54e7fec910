from django.conf import settings

from restoration.models import Yard


def yard_and_units(request):
    """What every page needs: whose yard this is and how this person reads lengths."""
    user = getattr(request, "user", None)
    return {
        "yard": getattr(request, "yard", None) or Yard.current(),
        "units": getattr(user, "units", "imperial"),
        "is_demo": settings.DEMO,
    }
