from django.contrib import admin
from django.contrib.auth.admin import UserAdmin

from .models import Client, User

admin.site.register(Client)


@admin.register(User)
class PersonAdmin(UserAdmin):
    """Sign-ins are made here: role, and for a client's sign-in, which client."""

    list_display = ["username", "first_name", "last_name", "role", "client", "is_active"]
    fieldsets = [*UserAdmin.fieldsets, ("In the register", {"fields": ["role", "client", "units"]})]
    add_fieldsets = [
        *UserAdmin.add_fieldsets,
        ("In the register", {"fields": ["role", "client", "units"]}),
    ]
