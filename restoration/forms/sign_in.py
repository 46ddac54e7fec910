"""Signing in, to the register and to its administration, with a wait after too many failures."""

from django.conf import settings
from django.contrib.admin.forms import AdminAuthenticationForm
from django.contrib.auth.forms import AuthenticationForm
from django.core.exceptions import ValidationError
from django.utils import timezone

from restoration.actions.sign_in import check_may_try, forget_failures, record_failure


class WaitsAfterFailures:
    def clean(self):
        name = self.cleaned_data.get("username")
        if not name or not self.cleaned_data.get("password"):
            return super().clean()
        who = {"name": name, "place": _place(self.request)}
        check_may_try(at=timezone.now(), **who)
        try:
            cleaned = super().clean()
        except ValidationError:
            record_failure(at=timezone.now(), **who)
            raise
        forget_failures(**who)
        return cleaned


class SignInForm(WaitsAfterFailures, AuthenticationForm):
    pass


class AdminSignInForm(WaitsAfterFailures, AdminAuthenticationForm):
    pass


def _place(request) -> str:
    """Where they sit; behind a proxy its own word, which is the last, not what was sent to it."""
    forwarded = request.META.get("HTTP_X_FORWARDED_FOR", "").rpartition(",")[2].strip()
    behind_proxy = settings.SECURE_PROXY_SSL_HEADER is not None
    return (behind_proxy and forwarded) or request.META.get("REMOTE_ADDR", "")
