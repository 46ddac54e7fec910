"""Every address of the register, one file a theme."""

from restoration.urls import matching, register, report

app_name = "restoration"

urlpatterns = [
    *register.paths,
    *matching.paths,
    *report.paths,
]
