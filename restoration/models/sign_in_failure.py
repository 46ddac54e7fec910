from django.db import models


class SignInFailure(models.Model):
    """That someone failed to sign in: under which name and from where, neither kept readable.

    People type a password where the name belongs; here it leaves only a keyed hash behind.
    """

    name_key = models.CharField(max_length=64)
    place_key = models.CharField(max_length=64)
    at = models.DateTimeField(db_index=True)

    def __str__(self):
        return f"failed sign-in {self.at:%Y-%m-%d %H:%M}"
