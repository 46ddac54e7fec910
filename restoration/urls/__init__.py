"""Every address of the register, one file a theme."""

from restoration.urls import register, report

app_name = "restoration"

urlpatterns = [
    *register.paths,
    *report.paths,
]
