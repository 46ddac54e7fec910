"""Every address of the register, one file a theme."""

from restoration.urls import register

app_name = "restoration"

urlpatterns = [
    *register.paths,
]
